"""Agreement of raters on categories, beyond what chance would give.

J. Cohen (1960), Educational and Psychological Measurement 20, 37; weighted:
J. Cohen (1968), Psychological Bulletin 70, 213; J. L. Fleiss (1971),
Psychological Bulletin 76, 378 (pages from memory).
"""

from __future__ import annotations

from enum import Enum

import numpy as np
from numpy.typing import NDArray

Numbers = NDArray[np.float64]
NO_VARIATION = 1e-12


class Weighting(Enum):
    """How much a disagreement by so many steps counts: all alike, by steps, by their square."""

    NONE = 0
    LINEAR = 1
    QUADRATIC = 2


def pair_table(first: Numbers, second: Numbers, categories: Numbers) -> Numbers:
    """Return how often the first rater gave each category (row) where the second gave another (column)."""
    table = np.zeros((len(categories), len(categories)))
    np.add.at(table, (np.searchsorted(categories, first), np.searchsorted(categories, second)), 1.0)
    return table


def kappa(table: Numbers, places: Numbers, weighting: Weighting = Weighting.NONE) -> float | None:
    """Return Cohen's kappa, 1 − Σ w·observed/Σ w·expected; None without variation.

    Parameters
    ----------
    table : shape (categories, categories)
        counts, first rater by second
    places : shape (categories,)
        where the categories lie; w is 1 off the diagonal, |distance| or its square
    """
    distance = np.abs(places[:, None] - places)
    weight = (
        (distance > 0).astype(float) if weighting is Weighting.NONE else distance**weighting.value
    )
    observed = table / table.sum()
    expected = np.outer(observed.sum(axis=1), observed.sum(axis=0))
    by_chance = float((weight * expected).sum())
    if by_chance <= NO_VARIATION:
        return None
    return 1 - float((weight * observed).sum()) / by_chance


def fleiss_kappa(counts: Numbers) -> float | None:
    """Return the kappa of many raters; None without variation.

    Parameters
    ----------
    counts : shape (subjects, categories)
        how many raters gave each category; the same number of raters everywhere
    """
    raters = counts[0].sum()
    agreed = ((counts**2).sum(axis=1) - raters) / (raters * (raters - 1))
    by_chance = float(((counts.sum(axis=0) / counts.sum()) ** 2).sum())
    if 1 - by_chance <= NO_VARIATION:
        return None
    return (float(agreed.mean()) - by_chance) / (1 - by_chance)
