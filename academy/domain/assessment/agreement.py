"""Everything there is to say about how far raters agree."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from academy.domain.assessment.intraclass import IntraclassCorrelations, intraclass_correlations
from academy.domain.assessment.rater_alpha import Scale, krippendorff_alpha
from academy.domain.assessment.rater_kappa import Weighting, fleiss_kappa, kappa, pair_table

Numbers = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class PairKappas:
    """Cohen's kappa of two raters, plain and weighted; None without variation."""

    plain: float | None
    linear: float | None
    quadratic: float | None


@dataclass(frozen=True, slots=True)
class Agreement:
    """How far raters agree; `pair` for two raters, the last two only without gaps."""

    alpha: float | None
    observed_agreement: float
    pair: PairKappas | None
    fleiss: float | None
    intraclass: IntraclassCorrelations | None


def agreement(ratings: Numbers, scale: Scale, categories: Numbers | None = None) -> Agreement:
    """Return every measure of agreement that exists for these ratings.

    Parameters
    ----------
    ratings : shape (raters, subjects)
        NaN where a rater did not rate
    categories
        all categories of the scale in order, where some were never given; the
        steps of weighted kappas are counted over them

    Raises
    ------
    NothingToCompare
    """
    found = krippendorff_alpha(ratings, scale)
    raters, subjects = ratings.shape
    used = np.unique(ratings[~np.isnan(ratings)]) if categories is None else np.sort(categories)
    whole = not np.isnan(ratings).any()
    return Agreement(
        alpha=found.alpha,
        observed_agreement=found.observed_agreement,
        pair=_pair(ratings, scale, used) if raters == 2 else None,
        fleiss=fleiss_kappa(_counts(ratings, used)) if whole else None,
        intraclass=intraclass_correlations(ratings) if whole and subjects > 1 else None,
    )


def _pair(ratings: Numbers, scale: Scale, categories: Numbers) -> PairKappas:
    first, second = ratings[:, ~np.isnan(ratings).any(axis=0)]
    table = pair_table(first, second, categories)
    measured = scale in (Scale.INTERVAL, Scale.RATIO)
    places = categories if measured else np.arange(len(categories), dtype=float)
    return PairKappas(*(kappa(table, places, weighting) for weighting in Weighting))


def _counts(ratings: Numbers, categories: Numbers) -> Numbers:
    return np.asarray((ratings.T[:, :, None] == categories).sum(axis=1), dtype=np.float64)
