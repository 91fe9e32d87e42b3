"""A spot's value from its readings, and what becomes of an odd one.

SSPC-PA 2 (as summarised by the society and in older texts): a spot is the mean
of at least three readings within a circle of 4 cm; an unusually high or low
reading may be dropped only where it cannot be repeated, and stays on record.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from statistics import median

from academy.domain.metrology.errors import TooFewReadings
from academy.domain.metrology.exact import Written, exact, exact_all, mean_of

READINGS_A_SPOT = 3


@dataclass(frozen=True, slots=True)
class SpotValue:
    """The mean of the kept readings, with every reading that was dropped on record."""

    mean_um: float
    kept_um: tuple[float, ...]
    dropped_um: tuple[float, ...] = ()


def spot_value(readings_um: Sequence[Written], needed: int = READINGS_A_SPOT) -> SpotValue:
    """Return the mean of a spot's readings; raises TooFewReadings below `needed`."""
    if len(readings_um) < needed:
        raise TooFewReadings(len(readings_um), needed)
    numbers = exact_all(readings_um)
    return SpotValue(float(mean_of(numbers)), tuple(map(float, numbers)))


def spot_value_after_repeat(
    readings_um: Sequence[Written], odd: int, repeat_um: Written
) -> SpotValue:
    """Return the spot's value after the reading at index `odd` was taken again.

    The repeat counts as a reading.  It confirms the odd one where it lies
    nearer to it than to the middle of the others; then nothing is dropped.
    """
    numbers, repeat = exact_all(readings_um), exact(repeat_um)
    others = numbers[:odd] + numbers[odd + 1 :]
    if not others:
        raise TooFewReadings(len(numbers), 2)
    if abs(repeat - numbers[odd]) < abs(repeat - median(others)):
        return spot_value([*numbers, repeat])
    kept = spot_value([*others, repeat])
    return SpotValue(kept.mean_um, kept.kept_um, (float(numbers[odd]),))
