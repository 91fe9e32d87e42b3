"""A gauge study of ten parts, three operators and three trials against its published results.

AIAG Measurement Systems Analysis: data from memory, half of them checked
against a public test data set; sums of squares for part, operator and total
and the pooled table were read; the worksheet's prints are from memory.
"""

from __future__ import annotations

import csv

import pytest

from academy.domain.metrology.average_range import gauge_study_by_average_range
from academy.domain.metrology.crossed_study import CrossedStudy, Measurement, crossed_study
from academy.domain.metrology.gauge_study import gauge_study_by_anova, gauge_verdict
from tests.reference.nist_data import DATA


@pytest.fixture(scope="module")
def study() -> CrossedStudy:
    """Return the ninety measurements."""
    with (DATA / "gauge_study_10x3x3.csv").open(encoding="utf-8", newline="") as lines:
        return crossed_study(
            Measurement(row["operator"], row["part"], row["value"]) for row in csv.DictReader(lines)
        )


def test_sums_of_squares_and_degrees_of_freedom(study: CrossedStudy) -> None:
    table = gauge_study_by_anova(study).anova
    sums = {source: line.ss for source, line in table.items()}
    assert sums == pytest.approx(
        {
            "operator": 3.16726,
            "part": 88.36193,
            "interaction": 0.35898,
            "repeatability": 2.75893,
            "total": 94.64711,
        },
        abs=1e-5,
    )
    assert [table[s].df for s in ("operator", "part", "interaction", "repeatability", "total")] == [
        2, 9, 18, 60, 89,
    ]  # fmt: skip


def test_the_interaction_is_tested_against_repeatability(study: CrossedStudy) -> None:
    line = gauge_study_by_anova(study).anova["interaction"]
    assert line.against == "repeatability"
    assert line.f == pytest.approx(0.43372, abs=1e-5)
    assert line.p == pytest.approx(0.97411, abs=1e-5)


def test_every_f_ratio_says_what_it_divides_by(study: CrossedStudy) -> None:
    """The same data give three pairs of F; books differ in the denominator."""
    kept = gauge_study_by_anova(study).anova
    pooled = gauge_study_by_anova(study, pool_interaction=True).anova
    assert kept["operator"].f_repeatability == pytest.approx(34.44007, abs=1e-4)
    assert kept["part"].f_repeatability == pytest.approx(213.51714, abs=1e-4)
    assert (kept["operator"].against, kept["part"].against) == ("interaction", "interaction")
    assert kept["operator"].f == pytest.approx(79.406, abs=1e-3)
    assert kept["part"].f == pytest.approx(492.291, abs=1e-3)
    assert pooled["operator"].f == pytest.approx(39.617, abs=1e-3)
    assert pooled["part"].f == pytest.approx(245.614, abs=1e-3)


def test_pooled_variance_components(study: CrossedStudy) -> None:
    result = gauge_study_by_anova(study, pool_interaction=True)
    expected = {
        "repeatability": 0.0399733,
        "operator": 0.0514553,
        "reproducibility": 0.0514553,
        "interaction": 0.0,
        "gauge": 0.0914285,
        "part": 1.0864466,
        "total": 1.1778751,
    }
    assert result.components == pytest.approx(expected, abs=1e-7)
    assert result.clamped == ()
    assert result.distinct_categories == 4


def test_shares_of_contribution_add_to_100_and_shares_of_study_variation_do_not(
    study: CrossedStudy,
) -> None:
    result = gauge_study_by_anova(study, pool_interaction=True)
    contribution, variation = result.percent_contribution, result.percent_study_variation
    assert contribution["gauge"] == pytest.approx(7.76, abs=0.005)
    assert contribution["repeatability"] == pytest.approx(3.39, abs=0.005)
    assert contribution["reproducibility"] == pytest.approx(4.37, abs=0.005)
    assert contribution["part"] == pytest.approx(92.24, abs=0.005)
    assert variation["gauge"] == pytest.approx(27.86, abs=0.005)
    assert variation["part"] == pytest.approx(96.04, abs=0.005)
    assert contribution["gauge"] + contribution["part"] == pytest.approx(100)
    assert variation["gauge"] + variation["part"] > 120


def test_a_negative_component_is_set_to_zero_and_said_so(study: CrossedStudy) -> None:
    result = gauge_study_by_anova(study)
    assert result.components["interaction"] == 0.0
    assert result.clamped == ("interaction",)
    assert result.before_clamping["interaction"] == pytest.approx(-0.0086796, abs=1e-6)
    assert result.components["gauge"] == pytest.approx(0.0981051, abs=1e-6)
    assert result.components["part"] == pytest.approx(1.0886721, abs=1e-6)
    assert result.components["total"] == pytest.approx(1.1867773, abs=1e-6)
    assert result.percent_study_variation["gauge"] == pytest.approx(28.7516, abs=1e-3)


def test_average_and_range_gives_the_worksheet(study: CrossedStudy) -> None:
    result = gauge_study_by_average_range(study)
    assert result.components == pytest.approx(
        {
            "repeatability": 0.201857,
            "reproducibility": 0.229667,
            "gauge": 0.305766,
            "part": 1.104596,
            "total": 1.146135,
        },
        abs=1e-6,
    )
    assert result.percent_study_variation == pytest.approx(
        {
            "repeatability": 17.612,
            "reproducibility": 20.038,
            "gauge": 26.678,
            "part": 96.376,
            "total": 100,
        },
        abs=1e-3,
    )
    assert result.distinct_categories == 5


@pytest.mark.parametrize(
    ("percent", "verdict"),
    [(9.99, "acceptable"), (10, "conditional"), (30, "conditional"), (30.01, "not acceptable")],
)
def test_a_gauge_is_acceptable_below_a_tenth_of_the_variation(percent: float, verdict: str) -> None:
    """AIAG bands, read in two write-ups; on which side 10 and 30 fall is our choice."""
    assert gauge_verdict(percent).value == verdict
