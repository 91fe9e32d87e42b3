"""How small a removal a gauge sees, and what that proves for a task."""

from __future__ import annotations

from decimal import Decimal

import pytest

from academy.domain.metrology.gauge_reach import (
    GaugeTooCoarse,
    NoLimitToProve,
    TakeMoreReadings,
    TaskReadingsSuffice,
    smallest_removal_um,
    what_the_gauge_can_prove,
)
from academy.domain.metrology.sample_size import readings_needed
from academy.domain.practical.outcome import GaugeFigures
from tests.support.course import a_measuring_task, a_task, a_task_by_eye


def a_gauge(repeatability: str) -> GaugeFigures:
    return GaugeFigures(Decimal("0.1"), Decimal(repeatability))


@pytest.mark.parametrize("sd_um", [0.3, 1.0, 1.5])
@pytest.mark.parametrize("readings", [1, 3, 9])
def test_the_smallest_removal_asks_for_exactly_those_readings(sd_um: float, readings: int) -> None:
    smallest = smallest_removal_um(sd_um, readings)
    assert readings_needed(sd_um, smallest * 1.0001) == readings
    assert readings_needed(sd_um, smallest * 0.9999) == readings + 1


# A limit of 3 µm and three readings: half is 1.5 µm; z = 2.8016, n = 2(2.8016·s/1.5)².
@pytest.mark.parametrize(
    ("repeatability", "says", "needed"),
    [
        ("0.3", TaskReadingsSuffice, None),
        ("1.5", TakeMoreReadings, 16),
        ("3.0", GaugeTooCoarse, 63),
    ],
)
def test_a_better_gauge_proves_more_with_fewer_readings(
    repeatability: str, says: type[object], needed: int | None
) -> None:
    found = what_the_gauge_can_prove(a_task(), a_gauge(repeatability))
    assert isinstance(found, says)
    assert getattr(found, "needed", None) == needed
    assert "3.0 µm" in str(found)


def test_a_task_that_only_measures_has_nothing_to_prove() -> None:
    found = what_the_gauge_can_prove(a_measuring_task(readings_per_spot=4), a_gauge("1.0"))
    assert isinstance(found, NoLimitToProve)
    assert found.half_um == pytest.approx(0.98, abs=0.001)


def test_a_task_by_eye_says_nothing_of_gauges() -> None:
    assert what_the_gauge_can_prove(a_task_by_eye(), a_gauge("0.3")) is None
