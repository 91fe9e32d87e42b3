"""Invented trainees to try a rule on: how often they spoil a section, and how much they take off.

Both kinds are models, no source.  Steady: the removal is lognormal with a
standard deviation of 0.35 of its logarithm, and a section is spoiled where it
is above the limit.  Two-mode: a section is spoiled by chance, and all others
lie far inside the limit, so that the readings give no warning.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import StrEnum
from typing import Any

from academy.domain.metrology.section_reading import fine_enough_for

Array = Any  # a numpy array; its shape stands in each docstring
Chance = Any  # a numpy.random.Generator
LOG_SD = 0.35
FAR_INSIDE = 0.25
FAR_INSIDE_LOG_SD = 0.2
RESOLVES_U = 2.8016  # (z₀.₉₇₅ + z₀.₈): the smallest removal told from nothing, in u


class Trainee(StrEnum):
    """How a trainee comes to spoil sections."""

    STEADY = "steady"
    TWO_MODE = "two-mode"


@dataclass(frozen=True, slots=True)
class ReadingPlan:
    """A task's limit and readings, and how the gauge repeats."""

    limit_um: float
    spots: int
    readings_per_spot: int
    repeatability_um: float

    @property
    def u_um(self) -> float:
        """Return the standard uncertainty of a section's mean removal, from the gauge alone."""
        return self.repeatability_um * math.sqrt(2 / (self.spots * self.readings_per_spot))

    @property
    def df(self) -> int:
        """Return the degrees of freedom of that scatter, pooled over the spots."""
        return self.spots * 2 * (self.readings_per_spot - 1)

    @property
    def fine_enough(self) -> bool:
        """Return whether the limit is at least three times what the gauge resolves."""
        return fine_enough_for(
            self.limit_um, self.spots, self.readings_per_spot, self.repeatability_um
        )


@dataclass(frozen=True, slots=True)
class SimulatedSections:
    """Worked sections; every array has shape (trainees, sections)."""

    spoiled: Array
    removed_um: Array
    u_um: Array
    resolves_um: Array


def simulated_sections(
    trainee: Trainee, spoil_rate: float, plan: ReadingPlan, chance: Chance, shape: tuple[int, int]
) -> SimulatedSections:
    """Return sections as the gauge reads them; ``shape`` is (trainees, sections)."""
    import numpy as np
    from scipy.special import ndtri

    if trainee is Trainee.STEADY:
        log_true = LOG_SD * (chance.standard_normal(shape) - float(ndtri(1 - spoil_rate)))
        spoiled = log_true > 0
    else:
        spoiled = chance.random(shape) < spoil_rate
        log_true = math.log(FAR_INSIDE) + FAR_INSIDE_LOG_SD * chance.standard_normal(shape)
        log_true = np.where(spoiled, np.abs(log_true) / 4, log_true)
    read = plan.limit_um * np.exp(log_true) + plan.u_um * chance.standard_normal(shape)
    scatter = np.sqrt(chance.chisquare(plan.df, shape) / plan.df) if plan.df else np.ones(shape)
    u_um = plan.u_um * scatter
    return SimulatedSections(spoiled, read, u_um, RESOLVES_U * u_um)
