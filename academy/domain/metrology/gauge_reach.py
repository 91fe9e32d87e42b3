"""How small a removal a gauge can see, and what that proves for a task.

The inverse of the formula for the readings needed: two independent means of n
readings each, two-sided 5 %, power 0.8 (normal formula, known: computed).  The
step of the display adds its r²/12 to the scatter (GUM F.2.2.1).
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from decimal import Decimal
from typing import ClassVar, Protocol

from academy.domain.metrology.sample_size import readings_needed
from academy.domain.sentences import Sentence

MOST_READINGS = 30  # beyond this nobody reads a spot; the gauge is the wrong one


class ReadTask(Protocol):
    """What a task asks of the gauge."""

    @property
    def limit_um(self) -> float | None: ...
    @property
    def readings_per_spot(self) -> int: ...


class ReadingGauge(Protocol):
    """What the shop knows of its gauge."""

    @property
    def resolution_um(self) -> Decimal: ...
    @property
    def repeatability_um(self) -> Decimal: ...


@dataclass(frozen=True, slots=True)
class TaskReadingsSuffice(Sentence):
    """The readings the task asks for see half its limit."""

    template: ClassVar[str] = (
        "This gauge can show a removal of %(sees_um).1f µm with the %(readings)d readings the task"
        " asks for at each spot. That is enough to prove that the limit of %(limit_um).1f µm is kept,"
        " as long as no more than half of it comes off."
    )
    sees_um: float
    readings: int
    limit_um: float


@dataclass(frozen=True, slots=True)
class TakeMoreReadings(Sentence):
    """The gauge needs more readings than the task asks for."""

    template: ClassVar[str] = (
        "With %(readings)d readings at each spot this gauge sees no less than %(sees_um).1f µm. To"
        " prove that the limit of %(limit_um).1f µm is kept, take %(needed)d readings at each spot"
        " before and %(needed)d after."
    )
    sees_um: float
    readings: int
    limit_um: float
    needed: int


@dataclass(frozen=True, slots=True)
class GaugeTooCoarse(Sentence):
    """No sensible number of readings proves the limit."""

    template: ClassVar[str] = (
        "This gauge cannot prove a limit of %(limit_um).1f µm: it would take %(needed)d readings at"
        " each spot before and as many after. Use a gauge that repeats better."
    )
    limit_um: float
    needed: int


@dataclass(frozen=True, slots=True)
class NoLimitToProve(Sentence):
    """The task only measures."""

    template: ClassVar[str] = (
        "This task takes nothing off. With %(readings)d readings the mean of a spot is known to"
        " about ±%(half_um).1f µm, beside what the gauge itself may be off."
    )
    readings: int
    half_um: float


GaugeReach = TaskReadingsSuffice | TakeMoreReadings | GaugeTooCoarse | NoLimitToProve


def scatter_um(gauge: ReadingGauge) -> float:
    """Return the standard deviation of one reading, the step of the display included, in µm."""
    return math.sqrt(float(gauge.repeatability_um) ** 2 + float(gauge.resolution_um) ** 2 / 12)


def smallest_removal_um(sd_um: float, readings: int, *, power: float = 0.8) -> float:
    """Return the smallest removal that `readings` before and as many after show, in micrometres.

    δ = (z₀.₉₇₅ + z_power)·s·√(2/n), the formula of `readings_needed` turned round.
    """
    from scipy.special import ndtri

    return (float(ndtri(0.975)) + float(ndtri(power))) * sd_um * math.sqrt(2 / readings)


def what_the_gauge_can_prove(task: ReadTask, gauge: ReadingGauge) -> GaugeReach | None:
    """Say what this gauge can prove for this task, and how many readings that takes.

    'Proved' means that a removal of half the limit is told from nothing; the
    other half is then left for the uncertainty.  Policy of this platform, no
    source.  None where the task takes no readings.
    """
    taken, sd_um = task.readings_per_spot, scatter_um(gauge)
    if taken < 1:
        return None
    if task.limit_um is None:
        return NoLimitToProve(taken, 1.96 * sd_um / math.sqrt(taken))
    needed = readings_needed(sd_um, task.limit_um / 2)
    if needed > MOST_READINGS:
        return GaugeTooCoarse(task.limit_um, needed)
    sees = smallest_removal_um(sd_um, taken)
    if needed <= taken:
        return TaskReadingsSuffice(sees, taken, task.limit_um)
    return TakeMoreReadings(sees, taken, task.limit_um, needed)
