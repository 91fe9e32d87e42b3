"""A person's day at vibrating machines: the time that is known, how sure its points are, what is missing.

Each machine's vibration value has an uncertainty, and the points go with its
square.  The range added up here takes every value at its lower or at its
upper end at once: values declared by one test code may well be off together.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from academy.domain.exposure.vibration import ROUNDING, VibrationExposure, daily_vibration

SECONDS_IN_AN_HOUR = 3600.0


@dataclass(frozen=True, slots=True)
class MachineVibration:
    """A machine's vibration total value and its uncertainty K, None where nobody stated one."""

    m_s2: float
    uncertainty_m_s2: float | None = None

    @property
    def lower_m_s2(self) -> float:
        """Return the least the value may be."""
        return max(0.0, self.m_s2 - (self.uncertainty_m_s2 or 0.0))

    @property
    def upper_m_s2(self) -> float:
        """Return the most the value may be: what a cautious reader counts with."""
        return self.m_s2 + (self.uncertainty_m_s2 or 0.0)


@dataclass(frozen=True, slots=True)
class ToolTime:
    """Seconds with the hands on one running machine; ``vibration`` is None where it is not known."""

    seconds: int
    vibration: MachineVibration | None


@dataclass(frozen=True, slots=True)
class Points:
    """Vibration points with the values as stated, all at their lower, and all at their upper end."""

    lower: float
    stated: float
    upper: float


@dataclass(frozen=True, slots=True)
class DayAtMachines:
    """What is known of one person's day.

    ``earlier_asked``: whether the person has said how long they had held a
    tool before, here or elsewhere.  ``without_time`` counts entries at a
    machine for which nobody wrote down how long it ran.
    """

    points: Points
    seconds: int
    seconds_without_value: int
    without_time: int
    uncertainty_missing: bool
    earlier_asked: bool

    @property
    def whole(self) -> bool:
        """Return whether nothing is missing; otherwise the total is of the recorded part only."""
        return self.earlier_asked and not self.seconds_without_value and not self.without_time


def day_at_machines(
    tool_times: Sequence[ToolTime], *, earlier_asked: bool, without_time: int = 0
) -> DayAtMachines:
    """Return a day's points and time, in any order of the tool times."""
    known = [(time.seconds, time.vibration) for time in tool_times if time.vibration is not None]
    seconds = sum(time.seconds for time in tool_times)
    return DayAtMachines(
        points=Points(
            _points([(seconds, value.lower_m_s2) for seconds, value in known]),
            _points([(seconds, value.m_s2) for seconds, value in known]),
            _points([(seconds, value.upper_m_s2) for seconds, value in known]),
        ),
        seconds=seconds,
        seconds_without_value=seconds - sum(seconds for seconds, _value in known),
        without_time=without_time,
        uncertainty_missing=any(value.uncertainty_m_s2 is None for _seconds, value in known),
        earlier_asked=earlier_asked,
    )


def reaches(points: float, value_points: float) -> bool:
    """Return whether points have reached a value; a day exactly at it has."""
    return points >= value_points * (1.0 - ROUNDING)


def minutes_left(day: DayAtMachines, machine: MachineVibration, value_points: float) -> float:
    """Return for how many more minutes a machine may run before the day may reach a value.

    Counted with the upper end of every value.  Zero when it may be reached
    already; infinite for a machine that does not vibrate.
    """
    left = value_points - day.points.upper
    if reaches(day.points.upper, value_points):
        return 0.0
    an_hour = _points([(int(SECONDS_IN_AN_HOUR), machine.upper_m_s2)])
    return 60.0 * left / an_hour if an_hour else float("inf")


def _points(times: Sequence[tuple[int, float]]) -> float:
    exposures = [VibrationExposure(m_s2, seconds / SECONDS_IN_AN_HOUR) for seconds, m_s2 in times]
    return daily_vibration(exposures).points
