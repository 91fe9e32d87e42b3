"""Krippendorff's alpha: agreement of any number of raters, with gaps, on any scale.

1 − observed/expected disagreement over all pairs of values given to the same
subject.  K. Krippendorff (2011), Computing Krippendorff's Alpha-Reliability.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum
from typing import ClassVar

import numpy as np
from numpy.typing import NDArray

from academy.domain.sentences import TradeError

Numbers = NDArray[np.float64]


class Scale(Enum):
    """What the numbers mean: names, an order, distances, or amounts from a true zero."""

    NOMINAL = "nominal"
    ORDINAL = "ordinal"
    INTERVAL = "interval"
    RATIO = "ratio"


@dataclass(eq=False)
class NothingToCompare(TradeError):
    """No subject was rated twice."""

    template: ClassVar[str] = "nothing was rated by two raters, so there is nothing to compare"


@dataclass(frozen=True, slots=True)
class Alpha:
    """Alpha, None without variation, and the share of pairs that agree exactly.

    Every value counts once in `observed_agreement`, however many raters its
    subject had.
    """

    alpha: float | None
    observed_agreement: float


def krippendorff_alpha(ratings: Numbers, scale: Scale) -> Alpha:
    """Return alpha and the observed agreement.

    Parameters
    ----------
    ratings : shape (raters, subjects)
        NaN where a rater did not rate

    Raises
    ------
    NothingToCompare
    """
    counts, values = _values_by_subject(ratings)
    given = counts.sum(axis=1)
    counts, given = counts[given > 1], given[given > 1]
    if not len(counts):
        raise NothingToCompare
    # Each subject's pairs of values weigh 1/(raters − 1), so that every value counts once.
    together = (counts / (given - 1)[:, None]).T @ counts
    together -= np.diag((counts / (given - 1)[:, None]).sum(axis=0))
    totals = together.sum(axis=1)
    all_values = totals.sum()
    difference = _squared_difference(values, totals, scale)
    expected = float(totals @ difference @ totals / (all_values - 1))
    observed = float((together * difference).sum())
    agreement = float(np.trace(together) / all_values)
    return Alpha(float(1 - observed / expected) if expected > 0 else None, agreement)


def _values_by_subject(ratings: Numbers) -> tuple[Numbers, Numbers]:
    """Return how many raters gave each subject each value, and the values in order."""
    values = np.unique(ratings[~np.isnan(ratings)])
    return np.asarray((ratings.T[:, :, None] == values).sum(axis=1), dtype=np.float64), values


def _squared_difference(values: Numbers, totals: Numbers, scale: Scale) -> Numbers:
    apart = values[:, None] - values
    if scale is Scale.NOMINAL:
        return np.asarray(apart != 0, dtype=np.float64)
    if scale is Scale.INTERVAL:
        return np.asarray(apart**2)
    if scale is Scale.RATIO:
        both = values[:, None] + values
        return np.asarray(np.divide(apart, both, out=np.zeros_like(apart), where=both != 0) ** 2)
    # Ordinal: the values lying between two ranks, half of the two ends.
    middle = np.cumsum(totals) - totals / 2
    return np.asarray((middle[:, None] - middle) ** 2)
