"""Ratios of removal, fitted coefficients and a tiring abrasive."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from academy.domain.polishing.preston import (
    DiminishingAbrasive,
    SetOfPasses,
    fitted_coefficient_m2_n,
    removal_ratio,
    removed_um,
)

WORK = SetOfPasses(force_n=40, pad_mm=150, arm_speed_mm_s=25, overlap=0.5, passes=4, mean_m_s=4.6)
TIRING = DiminishingAbrasive(start_m2_n=4e-12, end_m2_n=1e-12, breakdown_m=60)


def test_the_same_work_takes_the_same_off() -> None:
    assert removal_ratio(WORK, WORK) == 1


@pytest.mark.parametrize(
    ("change", "ratio"),
    [
        pytest.param({"force_n": 20.0}, 0.5, id="half the force"),
        pytest.param({"arm_speed_mm_s": 50.0}, 0.5, id="twice the arm speed"),
        pytest.param({"overlap": 0.75}, 2.0, id="rows half as far apart"),
        pytest.param({"passes": 6.0}, 1.5, id="half as many passes again"),
        pytest.param({"mean_m_s": 2.3}, 0.5, id="half the machine's speed"),
        pytest.param({"pad_mm": 75.0}, 2.0, id="half the pad"),
    ],
)
def test_each_part_of_the_work_counts_in_proportion(change: dict[str, float], ratio: float) -> None:
    assert removal_ratio(WORK, replace(WORK, **change)) == pytest.approx(ratio)


def test_a_coefficient_fitted_to_a_depth_gives_that_depth_back() -> None:
    fitted = fitted_coefficient_m2_n(2.3, WORK)

    assert removed_um(fitted, WORK.pressure_kpa, WORK.sliding_m) == pytest.approx(2.3)


def test_a_diminishing_abrasive_goes_from_its_start_to_its_end() -> None:
    assert TIRING.coefficient_m2_n(0) == pytest.approx(4e-12)
    assert TIRING.coefficient_m2_n(6000) == pytest.approx(1e-12)


def test_the_mean_of_a_diminishing_abrasive_is_the_mean_of_its_course() -> None:
    course = [TIRING.coefficient_m2_n(at_m) for at_m in np.linspace(0, 180, 20001)]

    assert TIRING.mean_coefficient_m2_n(180) == pytest.approx(np.mean(course), rel=1e-3)
    assert TIRING.mean_coefficient_m2_n(0) == 4e-12


def test_the_first_passes_of_a_diminishing_abrasive_take_the_most() -> None:
    first = TIRING.mean_coefficient_m2_n(50) * 50
    both = TIRING.mean_coefficient_m2_n(100) * 100

    assert first > both - first
