"""Intraclass correlations: agreement of raters in numbers.

P. E. Shrout, J. L. Fleiss (1979), Psychological Bulletin 86, 420.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Numbers = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class IntraclassCorrelations:
    """The six forms; None where the subjects and ratings do not vary.

    First number: 1, each subject has other raters; 2, the same raters, drawn
    from many; 3, the same raters, and only they matter.  `single` is for one
    rater, `mean` for the mean of all k.
    """

    single_1: float | None
    single_2: float | None
    single_3: float | None
    mean_1: float | None
    mean_2: float | None
    mean_3: float | None

    def by_name(self) -> dict[str, float | None]:
        """Return them under the names Shrout and Fleiss give."""
        return {
            "1,1": self.single_1, "2,1": self.single_2, "3,1": self.single_3,
            "1,k": self.mean_1, "2,k": self.mean_2, "3,k": self.mean_3,
        }  # fmt: skip


def intraclass_correlations(ratings: Numbers) -> IntraclassCorrelations:
    """Return the six correlations.

    Parameters
    ----------
    ratings : shape (raters, subjects)
        no gaps, at least two of each
    """
    k, n = ratings.shape
    grand = ratings.mean()
    # A common offset costs no digits once the grand mean is gone.
    ratings = ratings - grand
    rater, subject = ratings.mean(axis=1), ratings.mean(axis=0)
    between = k * float((subject**2).sum()) / (n - 1)
    of_raters = n * float((rater**2).sum()) / (k - 1)
    residual = float(((ratings - rater[:, None] - subject) ** 2).sum()) / ((n - 1) * (k - 1))
    within = float(((ratings - subject) ** 2).sum()) / (n * (k - 1))
    scale = float((ratings**2).mean())
    nothing = 1e-24 * (grand**2 + scale)
    surplus = (of_raters - residual) / n
    return IntraclassCorrelations(
        single_1=_quotient(between - within, between + (k - 1) * within, nothing),
        single_2=_quotient(between - residual, between + (k - 1) * residual + k * surplus, nothing),
        single_3=_quotient(between - residual, between + (k - 1) * residual, nothing),
        mean_1=_quotient(between - within, between, nothing),
        mean_2=_quotient(between - residual, between + surplus, nothing),
        mean_3=_quotient(between - residual, between, nothing),
    )


def _quotient(above: float, below: float, nothing: float) -> float | None:
    return above / below if abs(below) > nothing else None
