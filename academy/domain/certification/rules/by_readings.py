"""Deciding sooner from how much came off, while nothing has been spoiled.

The logarithm of each section's mean removal over its limit is taken as
normally distributed; a one-sided tolerance bound on it (NIST/SEMATECH
e-Handbook 7.2.6.3) at or below 0 says that the stated share of all sections
keeps to the limit.  The gauge's own scatter is taken out of the standard
deviation, because it is not the trainee's.

A removal below what the gauge resolves, or below nothing, is put in at what
the gauge resolves: the gauge can say no more than 'no more than that'.  The
limit is at least three times as large, so this only ever makes a trainee look
nearer to the limit, and it keeps one section that happens to read next to
nothing from widening the spread.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from functools import lru_cache
from typing import Any

from academy.domain.certification.rules.strictness import Figures
from academy.domain.metrology.section_reading import SectionReading
from academy.domain.metrology.tolerance import tolerance_factor

Array = Any  # a numpy array; its shape stands in each docstring
FEWEST_SECTIONS = 7


def log_ratio(removed_um: Array, resolves_um: Array, limit_um: Array) -> Array:
    """Return ln(removal/limit), the removal no smaller than the gauge resolves; any shape."""
    import numpy as np

    return np.log(np.maximum(removed_um, resolves_um) / limit_um)


def gauge_variance(removed_um: Array, resolves_um: Array, u_um: Array) -> Array:
    """Return the variance that the gauge's scatter gives the logarithm, (u/removal)²; any shape.

    First order: JCGM 100:2008 5.1.2.
    """
    import numpy as np

    return (u_um / np.maximum(removed_um, resolves_um)) ** 2


def bounds_after_each(log_ratios: Array, gauge_variances: Array, figures: Figures) -> Array:
    """Return the tolerance bound on ln(removal/limit) after each section; shape (..., sections).

    mean + k·√max(0, s² − mean gauge variance); infinite below seven sections.
    """
    import numpy as np

    log_ratios = np.asarray(log_ratios, dtype=float)
    number = np.arange(1, log_ratios.shape[-1] + 1)
    mean = np.cumsum(log_ratios, axis=-1) / number
    # about the first value, so that equal values have no spread at all
    moved = log_ratios - log_ratios[..., :1]
    squares = np.cumsum(moved**2, axis=-1) - np.cumsum(moved, axis=-1) ** 2 / number
    gauge = np.cumsum(gauge_variances, axis=-1) / number
    own = np.maximum(0, squares / np.maximum(1, number - 1) - gauge)
    bounds = mean + _factors(len(number), figures) * np.sqrt(own)
    return np.where(number >= FEWEST_SECTIONS, bounds, np.inf)


def readings_decide_after(
    readings: Sequence[SectionReading], figures: Figures, most: int = 50
) -> int | None:
    """Return how many more sections that read like these bring the bound to the limit.

    None where not even ``most`` do: the removal itself is too near the limit.
    """
    import numpy as np

    if len(readings) < 2:
        return max(0, FEWEST_SECTIONS - len(readings))
    ratios, variances = _of(readings)
    own = math.sqrt(max(0.0, float(np.var(ratios, ddof=1)) - float(np.mean(variances))))
    mean = float(np.mean(ratios))
    factors = _factors(len(readings) + most, figures)
    for more in range(1, most + 1):
        number = len(readings) + more
        if number >= FEWEST_SECTIONS and mean + factors[number - 1] * own <= 0:
            return more
    return None


def bounds_of(readings: Sequence[SectionReading], figures: Figures) -> Array:
    """Return the bound after each of one person's sections, in their order; shape (sections,)."""
    ratios, variances = _of(readings)
    return bounds_after_each(ratios, variances, figures)


def _of(readings: Sequence[SectionReading]) -> tuple[Array, Array]:
    import numpy as np

    removed = np.array([reading.removed_um for reading in readings])
    resolves = np.array([reading.resolves_um for reading in readings])
    limits = np.array([reading.limit_um for reading in readings])
    u = np.array([reading.u_um for reading in readings])
    return log_ratio(removed, resolves, limits), gauge_variance(removed, resolves, u)


@lru_cache(maxsize=64)
def _factors(sections: int, figures: Figures) -> Array:
    import numpy as np

    counted = range(FEWEST_SECTIONS, sections + 1)
    factors = [tolerance_factor(n, figures.coverage, figures.confidence) for n in counted]
    return np.array([0.0] * min(sections, FEWEST_SECTIONS - 1) + factors)
