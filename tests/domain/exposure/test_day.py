"""A person's day at machines: what adds up, how sure it is, and what is said when something is missing."""

from __future__ import annotations

from itertools import permutations

import pytest

from academy.domain.exposure.day import (
    DayAtMachines,
    MachineVibration,
    ToolTime,
    day_at_machines,
    minutes_left,
    reaches,
)
from academy.domain.exposure.vibration import hours_to_reach

DUAL_ACTION = MachineVibration(4.5, 1.5)
ROTARY = MachineVibration(3.2, 1.5)
WITHOUT_UNCERTAINTY = MachineVibration(5.0)


def a_day(*times: ToolTime, asked: bool = True, without_time: int = 0) -> DayAtMachines:
    return day_at_machines(times, earlier_asked=asked, without_time=without_time)


def test_points_carry_the_range_of_the_machines_value() -> None:
    # 2 a² T by hand: 2·3²·1, 2·4.5²·1 and 2·6²·1 for one hour of 4.5 ± 1.5 m/s².
    points = a_day(ToolTime(3600, DUAL_ACTION)).points

    assert (points.lower, points.stated, points.upper) == pytest.approx((18, 40.5, 72))


def test_times_at_several_machines_add_up_in_any_order() -> None:
    times = [ToolTime(900, DUAL_ACTION), ToolTime(1200, ROTARY), ToolTime(60, None)]
    totals = {
        (day.seconds, round(day.points.upper, 9))
        for day in (a_day(*order) for order in permutations(times))
    }

    assert len(totals) == 1
    assert a_day(*times).seconds == 2160


def test_a_step_split_in_two_gives_the_same_points() -> None:
    whole = a_day(ToolTime(600, DUAL_ACTION)).points
    halves = a_day(ToolTime(251, DUAL_ACTION), ToolTime(349, DUAL_ACTION)).points

    assert halves.upper == pytest.approx(whole.upper)


def test_an_uncertainty_larger_than_the_value_does_not_go_below_nothing() -> None:
    assert a_day(ToolTime(3600, MachineVibration(1.0, 1.5))).points.lower == 0


@pytest.mark.parametrize(
    ("day", "whole"),
    [
        pytest.param(a_day(), True, id="asked, and there was none"),
        pytest.param(a_day(asked=False), False, id="nobody asked"),
        pytest.param(a_day(ToolTime(60, None)), False, id="a machine without a value"),
        pytest.param(a_day(ToolTime(60, ROTARY), without_time=1), False, id="time not noted"),
        pytest.param(a_day(ToolTime(60, ROTARY)), True, id="all known"),
        pytest.param(a_day(ToolTime(0, None)), True, id="no time at an unknown machine"),
    ],
)
def test_a_total_says_whether_it_is_of_the_recorded_part_only(
    day: DayAtMachines, whole: bool
) -> None:
    assert day.whole is whole


def test_a_value_without_an_uncertainty_is_said_to_be_one() -> None:
    assert a_day(ToolTime(60, WITHOUT_UNCERTAINTY)).uncertainty_missing
    assert not a_day(ToolTime(60, DUAL_ACTION)).uncertainty_missing


@pytest.mark.parametrize("value_points", [100.0, 400.0])
@pytest.mark.parametrize("machine", [DUAL_ACTION, ROTARY, WITHOUT_UNCERTAINTY])
def test_the_time_left_is_the_directives_time_at_the_upper_value(
    machine: MachineVibration, value_points: float
) -> None:
    a8 = 2.5 if value_points == 100 else 5.0

    left = minutes_left(a_day(), machine, value_points)

    assert left == pytest.approx(60 * hours_to_reach(a8, machine.upper_m_s2))


def test_working_the_time_that_is_left_reaches_the_value_and_a_second_less_does_not() -> None:
    begun = [ToolTime(1800, ROTARY)]
    left_s = 60 * minutes_left(a_day(*begun), DUAL_ACTION, 100)

    assert reaches(a_day(*begun, ToolTime(int(left_s) + 1, DUAL_ACTION)).points.upper, 100)
    assert not reaches(a_day(*begun, ToolTime(int(left_s), DUAL_ACTION)).points.upper, 100)
    assert minutes_left(a_day(*begun, ToolTime(9000, DUAL_ACTION)), ROTARY, 100) == 0


def test_a_machine_that_does_not_vibrate_uses_up_nothing() -> None:
    assert minutes_left(a_day(), MachineVibration(0.0), 100) == float("inf")
