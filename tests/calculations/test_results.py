"""Results of the calculations that wrap measuring and evidence, number by number."""

from __future__ import annotations

import json
from typing import Any

import pytest

from academy.calculations import run


def result(name: str, **inputs: object) -> dict[str, Any]:
    """Return a result as it comes out of JSON."""
    answer: dict[str, Any] = json.loads(json.dumps(run(name, inputs).result, allow_nan=False))
    return answer


def test_infinitely_many_degrees_of_freedom_are_null() -> None:
    spots = [{"before_um": 112, "after_um": 110}]
    removal = result("removal", spots=spots, gauge_sd_um=0.5)
    assert removal["df"] is None
    assert removal["per_spot"][0]["df"] is None
    assert removal["per_spot"][0]["u_um"] == pytest.approx(0.5 * 2**0.5)


def test_a_spot_without_repeats_has_null_bounds() -> None:
    spots = [{"before_um": [112], "after_um": [110]}, {"before_um": [112], "after_um": [109]}]
    removal = result("removal", spots=spots)
    assert removal["unevenness_um"] is None
    assert removal["per_spot"][0] == {
        "removed_um": 2.0, "u_um": None, "df": None, "lower_um": None, "upper_um": None,
    }  # fmt: skip


def test_decimal_texts_and_numbers_give_the_same_statistics() -> None:
    texts = ["1000000000000.4", "1000000000000.3", "1000000000000.5"]
    numbers = [float(text) for text in texts]
    assert result("statistics", values=texts) == result("statistics", values=numbers)
    assert result("statistics", values=texts)["sd"] == pytest.approx(0.1, rel=1e-14)


@pytest.mark.parametrize("substrate", ["plastic", "abs", "pp", "composite"])
def test_no_budget_is_counted_on_plastic(substrate: str) -> None:
    step = {"baseline_um": 112, "now_um": 112, "planned_um": 1, "planned_uncertainty_um": 0}
    assert result("may-cut-again", **step)["allowed"] is True
    assert result("may-cut-again", **step, substrate=substrate)["allowed"] is None


def test_a_tolerance_bound_takes_both_pairs_of_words() -> None:
    given = {"values": [1, 2, 3, 4, 5], "coverage": 0.95, "confidence": 0.95}
    lower = result("tolerance-bound", **given, side="minimum")
    assert lower == result("tolerance-bound", **given, side="lower")
    assert lower["bound"] == pytest.approx(3 - 4.202681 * 2.5**0.5, rel=1e-6)
    assert result("tolerance-bound", **given, side="upper")["bound"] > 3


def test_a_gauge_study_by_either_method_has_the_same_keys() -> None:
    measurements = [
        {"operator": o, "part": p, "trial": t, "value": v}
        for (o, p, t), v in {
            ("A", 1, 1): 10, ("A", 1, 2): 11, ("A", 2, 1): 20, ("A", 2, 2): 22,
            ("B", 1, 1): 12, ("B", 1, 2): 12, ("B", 2, 1): 23, ("B", 2, 2): 21,
        }.items()
    ]  # fmt: skip
    anova = result("gauge-study", measurements=measurements)
    ranges = result("gauge-study", measurements=measurements, method="average-range")
    assert set(ranges) <= set(anova)
    assert ranges["interaction"] is None
    assert ranges["repeatability"] == pytest.approx(0.8862 * 1.25)
    assert anova["repeatability"] == pytest.approx((0.5 + 2 + 0 + 2) / 4)


def test_parts_may_be_numbered_and_whole_numbers_may_be_written_with_a_point() -> None:
    assert result("proportion", passed=9.0, tried=10) == result("proportion", passed=9, tried=10)


def test_a_decision_is_spelled_as_in_the_practice() -> None:
    rule = {"p0": 0.1, "p1": 0.3, "alpha": 0.1, "beta": 0.1}
    assert result("sequential", **rule)["decision"] == "undecided"
    passed = result("sequential", **rule, outcomes=[True] * 20)
    assert (passed["decision"], passed["decided_after"]) == ("competent", passed["straight_passes"])
    failed = result("sequential", **rule, outcomes=[False] * 20)
    assert (failed["decision"], failed["decided_after"]) == ("not yet", 2)
