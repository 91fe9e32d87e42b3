"""Mean, spread, paired differences, groups: what has no value says so."""

from __future__ import annotations

import statistics

import pytest
from hypothesis import given
from hypothesis import strategies as st

from academy.domain.metrology.anova import one_way
from academy.domain.metrology.errors import NothingVaries, TooFewReadings, UnlikeLengths
from academy.domain.metrology.paired import paired_difference
from academy.domain.metrology.summary import summarise


def test_a_single_reading_has_no_spread() -> None:
    summary = summarise([112])
    assert (summary.mean, summary.sd, summary.cv_percent) == (112.0, None, None)


def test_readings_all_the_same_have_no_autocorrelation() -> None:
    summary = summarise([112, 112])
    assert (summary.sd, summary.lag1_autocorrelation) == (0.0, None)


def test_a_mean_of_zero_has_no_coefficient_of_variation() -> None:
    assert summarise([-1, 1]).cv_percent is None


def test_no_readings_have_no_summary() -> None:
    with pytest.raises(TooFewReadings):
        summarise([])


@given(st.lists(st.floats(-1e6, 1e6), min_size=2, max_size=30))
def test_a_summary_agrees_with_the_standard_library(values: list[float]) -> None:
    summary = summarise(values)
    assert summary.mean == pytest.approx(statistics.fmean(values), rel=1e-12, abs=1e-9)
    assert summary.sd == pytest.approx(statistics.stdev(values), rel=1e-9, abs=1e-9)


def test_differences_all_the_same_have_no_t() -> None:
    difference = paired_difference([3, 4], [1, 2])
    assert (difference.t, difference.p_two_sided) == (None, None)
    assert (difference.lower, difference.upper) == (2.0, 2.0)


def test_a_difference_is_first_minus_second() -> None:
    assert paired_difference([3, 5], [1, 1]).mean_difference == 3.0
    difference = paired_difference([1, 1], [3, 5])
    assert difference.t is not None
    assert difference.t < 0


def test_pairs_need_partners() -> None:
    with pytest.raises(UnlikeLengths):
        paired_difference([1, 2], [1])
    with pytest.raises(TooFewReadings):
        paired_difference([1], [1])


def test_two_groups_give_the_square_of_t() -> None:
    """F(1, n−2) is t² of the pooled two-sample comparison."""
    table = one_way([[1, 2, 4], [3, 6, 7]])
    pooled = (14 / 3 + 26 / 3) / 4
    t2 = (7 / 3 - 16 / 3) ** 2 / (pooled * 2 / 3)
    assert table.f == pytest.approx(t2)


def test_groups_without_scatter_have_no_f() -> None:
    with pytest.raises(NothingVaries, match="F has no value"):
        one_way([[1, 1], [2, 2]])


@pytest.mark.parametrize("groups", [[], [[1, 2]], [[1], [2]], [[1, 2], []]])
def test_too_few_readings_have_no_table(groups: list[list[float]]) -> None:
    with pytest.raises(TooFewReadings):
        one_way(groups)
