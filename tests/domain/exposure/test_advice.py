"""What is said before a working step: a truth table over the points so far and the machine to come."""

from __future__ import annotations

import pytest

from academy.domain.exposure.advice import Warned, advice, worst
from academy.domain.exposure.day import DayAtMachines, MachineVibration, ToolTime, day_at_machines
from academy.domain.exposure.legal import vibration_values

VALUES = vibration_values("SE")
# 2 a² T: 5 m/s² makes 50 points an hour, so 12.5 in fifteen minutes.
FIFTY_AN_HOUR = MachineVibration(5.0, 0.0)
GENTLE = MachineVibration(1.0, 0.0)


def day_of(points: float) -> DayAtMachines:
    """Return a day with that many points on its cautious side."""
    return day_at_machines(
        [ToolTime(round(72 * points), MachineVibration(4.0, 1.0))], earlier_asked=True
    )


@pytest.mark.parametrize(
    ("points", "machine", "warned"),
    [
        (0, FIFTY_AN_HOUR, Warned.CLEAR),
        (0, None, Warned.CLEAR),
        (79, FIFTY_AN_HOUR, Warned.CLEAR),
        (80, FIFTY_AN_HOUR, Warned.NEAR_ACTION),
        (80, GENTLE, Warned.NEAR_ACTION),
        (80, None, Warned.NEAR_ACTION),
        (70, MachineVibration(10.0), Warned.NEAR_ACTION),  # 200 an hour: nine minutes
        (70, None, Warned.CLEAR),
        (99, None, Warned.NEAR_ACTION),
        (100, None, Warned.ACTION),
        (100, GENTLE, Warned.ACTION),
        (319, None, Warned.ACTION),
        (320, None, Warned.NEAR_LIMIT),
        (300, MachineVibration(20.0), Warned.NEAR_LIMIT),
        (399, None, Warned.NEAR_LIMIT),
        (400, None, Warned.LIMIT),
        (900, FIFTY_AN_HOUR, Warned.LIMIT),
    ],
)
def test_the_warning_comes_before_the_value(
    points: float, machine: MachineVibration | None, warned: Warned
) -> None:
    assert advice(day_of(points), VALUES, machine).warned is warned


def test_more_time_never_lowers_the_warning() -> None:
    order = list(Warned)
    levels = [order.index(advice(day_of(p), VALUES, FIFTY_AN_HOUR).warned) for p in range(450)]

    assert levels == sorted(levels)
    assert set(levels) == set(range(len(order)))


def test_the_minutes_left_are_of_the_machine_to_be_taken_up() -> None:
    said = advice(day_of(50), VALUES, FIFTY_AN_HOUR)

    assert said.minutes_to_action == pytest.approx(60)
    assert said.minutes_to_limit == pytest.approx(420)
    assert advice(day_of(50), VALUES, None).minutes_to_action is None


def test_an_unknown_machine_is_taken_for_the_one_that_shakes_most() -> None:
    assert worst([GENTLE, MachineVibration(3.0, 3.0), FIFTY_AN_HOUR]) == MachineVibration(3.0, 3.0)
    assert worst([]) is None


def test_each_warning_says_what_to_do() -> None:
    says = {str(advice(day_of(points), VALUES, None).says) for points in (0, 85, 200, 350, 500)}

    assert len(says) == 5
    assert all(sentence[0].isupper() for sentence in says)
