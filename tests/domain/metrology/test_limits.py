"""Gauge checks, conformity, sample sizes and tolerance bounds at their edges."""

from __future__ import annotations

import pytest

from academy.domain.metrology.conformity import Side, conformity_probability
from academy.domain.metrology.errors import TooFewReadings
from academy.domain.metrology.sample_size import readings_needed
from academy.domain.metrology.tolerance import tolerance_bound
from academy.domain.metrology.verification import Combine, Tolerance, verify_gauge, zero_passes


@pytest.mark.parametrize(("reading", "passed"), [(103.3, True), (103.31, False), (96.7, True)])
def test_an_error_equal_to_the_limit_passes(reading: float, passed: bool) -> None:
    check = verify_gauge(100, [reading], Tolerance(1, 2), Tolerance("0.3"), Combine.SUM)
    assert check.limit_um == pytest.approx(3.3)
    assert check.passed is passed


def test_equality_holds_for_the_root_sum_square_as_well() -> None:
    check = verify_gauge(100, [100.5], Tolerance(0.3), Tolerance(0.4))
    assert (check.limit_um, check.passed) == (0.5, True)


def test_a_check_needs_a_reading() -> None:
    with pytest.raises(TooFewReadings):
        verify_gauge(100, [], Tolerance(1), Tolerance(1))
    with pytest.raises(TooFewReadings):
        zero_passes([], Tolerance(1))


def test_a_value_far_beyond_a_limit_keeps_its_digits() -> None:
    beyond = conformity_probability(30.0, 1.0, lower=0.0, upper=20.0)
    assert beyond == pytest.approx(7.6198530241605e-24, rel=1e-9)
    assert conformity_probability(-10.0, 1.0, lower=0.0, upper=20.0) == pytest.approx(beyond)


def test_pairs_halve_the_readings() -> None:
    assert readings_needed(1.5, 2, paired=True) == 5
    assert readings_needed(0.001, 2) == 1


def test_a_bound_below_and_a_bound_above_are_mirror_images() -> None:
    low = tolerance_bound([1, 2, 3, 4, 5], 0.95, 0.95, Side.MINIMUM)
    high = tolerance_bound([1, 2, 3, 4, 5], 0.95, 0.95, Side.MAXIMUM)
    assert low.k == high.k
    assert low.bound + high.bound == pytest.approx(6)


def test_a_bound_needs_two_values() -> None:
    with pytest.raises(TooFewReadings):
        tolerance_bound([1], 0.95, 0.95, Side.MINIMUM)
