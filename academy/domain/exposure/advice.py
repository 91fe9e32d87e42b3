"""What to say before somebody takes up the machine again: enough time left, or not."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum

from academy.domain.exposure.day import DayAtMachines, MachineVibration, minutes_left, reaches
from academy.domain.exposure.legal import VibrationValues
from academy.domain.sentences import Sentence

# Common practice, no source: one working step seldom takes longer than this, and
# the last fifth of a value is no time to begin another.
ONE_STEP_MIN = 15.0
NEARLY = 0.8


class Warned(StrEnum):
    """How far the day has gone, in rising order."""

    CLEAR = "clear"
    NEAR_ACTION = "near the action value"
    ACTION = "action value"
    NEAR_LIMIT = "near the limit value"
    LIMIT = "limit value"


@dataclass(frozen=True, slots=True)
class EnoughLeft(Sentence):
    """Nothing stands against another step."""

    template = "Below the action value with room for another step; less is better still"


@dataclass(frozen=True, slots=True)
class ActionIsNear(Sentence):
    """The next step may reach the action value."""

    template = (
        "The action value is near: the next step may reach it. Share the machine work or leave it"
        " for another day"
    )


@dataclass(frozen=True, slots=True)
class ActionReached(Sentence):
    """The action value may be reached."""

    template = (
        "The action value may be reached: the employer has to bring the exposure down. Do only"
        " what cannot wait"
    )


@dataclass(frozen=True, slots=True)
class LimitIsNear(Sentence):
    """The next step may reach the limit value."""

    template = "The limit value is near: do not start another step at a vibrating machine today"


@dataclass(frozen=True, slots=True)
class LimitReached(Sentence):
    """The limit value may be reached."""

    template = (
        "The limit value may be reached: no more work at a vibrating machine today, for this"
        " person. Tell the owner"
    )


Says = EnoughLeft | ActionIsNear | ActionReached | LimitIsNear | LimitReached

_SAYS: dict[Warned, type[Says]] = {
    Warned.CLEAR: EnoughLeft,
    Warned.NEAR_ACTION: ActionIsNear,
    Warned.ACTION: ActionReached,
    Warned.NEAR_LIMIT: LimitIsNear,
    Warned.LIMIT: LimitReached,
}


@dataclass(frozen=True, slots=True)
class Advice:
    """What to say before the next step, and which machine it is about where one is known.

    The minutes are None where no machine's value is known.
    """

    warned: Warned
    says: Says
    minutes_to_action: float | None
    minutes_to_limit: float | None


def advice(day: DayAtMachines, values: VibrationValues, machine: MachineVibration | None) -> Advice:
    """Return what to say before the next working step, from the upper end of every value."""
    warned = _warned(day, values, machine)
    return Advice(
        warned,
        _SAYS[warned](),
        minutes_left(day, machine, values.action_points) if machine else None,
        minutes_left(day, machine, values.limit_points) if machine else None,
    )


def worst(machines: Sequence[MachineVibration]) -> MachineVibration | None:
    """Return the machine to count with when nobody knows yet which one is taken up."""
    return max(machines, key=lambda machine: machine.upper_m_s2, default=None)


def _warned(
    day: DayAtMachines, values: VibrationValues, machine: MachineVibration | None
) -> Warned:
    if reaches(day.points.upper, values.limit_points):
        return Warned.LIMIT
    if _near(day, machine, values.limit_points):
        return Warned.NEAR_LIMIT
    if reaches(day.points.upper, values.action_points):
        return Warned.ACTION
    if _near(day, machine, values.action_points):
        return Warned.NEAR_ACTION
    return Warned.CLEAR


def _near(day: DayAtMachines, machine: MachineVibration | None, value_points: float) -> bool:
    if reaches(day.points.upper, NEARLY * value_points):
        return True
    return machine is not None and minutes_left(day, machine, value_points) <= ONE_STEP_MIN
