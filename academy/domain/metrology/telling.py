"""How many more readings would turn 'cannot tell' into an answer."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import ClassVar

from academy.domain.metrology.removal import SpotReadings, SpotRemoval
from academy.domain.metrology.uncertainty import coverage_factor
from academy.domain.sentences import Sentence

MOST_MORE = 40  # nobody reads a spot more often than that


@dataclass(frozen=True, slots=True)
class MoreReadingsTell(Sentence):
    """So many more readings decide it, if they scatter as the others did."""

    template: ClassVar[str] = (
        "%(more)d more readings after the work at spot %(spot)d would tell, if mean and scatter stay"
        " as they are."
    )
    more: int
    spot: int


@dataclass(frozen=True, slots=True)
class NoReadingsTell(Sentence):
    """The readings before the work were too few, and nobody can take them now."""

    template: ClassVar[str] = (
        "No number of readings after the work tells it at spot %(spot)d: the %(before)d readings"
        " before it leave ±%(half_um).2f µm. Take more before, next time."
    )
    spot: int
    before: int
    half_um: float


Telling = MoreReadingsTell | NoReadingsTell


def more_readings_to_tell(
    number: int, spot: SpotRemoval, readings: SpotReadings, limit_um: float
) -> Telling | None:
    """Return how many more readings after the work decide a spot, or None where it is decided.

    Parameters
    ----------
    number
        the spot's number as marked on the panel
    spot, readings
        its removal, and the readings that it came from

    Notes
    -----
    The interval's half width with n_b readings before and n_a after is
    t(0.975, n_b + n_a − 2)·s·√(1/n_b + 1/n_a); the answer is the least n_a for
    which it no longer reaches the limit.  As n_a grows it stays above
    1.96·s/√n_b: the readings before the work are fixed.
    """
    if spot.u_um is None or spot.lower_um is None or spot.upper_um is None:
        return None
    if not spot.lower_um <= limit_um < spot.upper_um:
        return None
    before, after = len(readings.before_um), len(readings.after_um)
    sd = spot.u_um / math.sqrt(1 / before + 1 / after)
    distance = abs(limit_um - spot.removed_um)
    for more in range(1, MOST_MORE + 1):
        if _half_width_um(sd, before, after + more) <= distance:
            return MoreReadingsTell(more, number)
    return NoReadingsTell(number, before, _half_width_um(sd, before, after + MOST_MORE))


def _half_width_um(sd_um: float, before: int, after: int) -> float:
    return coverage_factor(before + after - 2) * sd_um * math.sqrt(1 / before + 1 / after)
