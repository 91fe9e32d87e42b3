"""Everything there is to say about how far raters agree, and the words a page uses for it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

import numpy as np
from numpy.typing import NDArray

from academy.domain.assessment.intraclass import IntraclassCorrelations, intraclass_correlations
from academy.domain.assessment.rater_alpha import Scale, krippendorff_alpha
from academy.domain.assessment.rater_kappa import Weighting, fleiss_kappa, kappa, pair_table
from academy.domain.sentences import Sentence

Numbers = NDArray[np.float64]
RELIABLE, TENTATIVE = 0.8, 0.667


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


@dataclass(frozen=True, slots=True)
class NoVariation(Sentence):
    """Every rating was the same."""

    template: ClassVar[str] = (
        "every rating was the same, so nothing shows whether the raters would tell good work from bad"
    )


@dataclass(frozen=True, slots=True)
class Reliable(Sentence):
    """Alpha of 0.8 or more."""

    template: ClassVar[str] = (
        "the raters agree well: %(percent)d of 100 pairs of ratings are equal, alpha %(alpha).2f"
    )
    percent: int
    alpha: float


@dataclass(frozen=True, slots=True)
class Tentative(Sentence):
    """Alpha of 0.667 or more."""

    template: ClassVar[str] = (
        "the raters agree enough for a first view, not for a certificate: %(percent)d of 100 pairs "
        "of ratings are equal, alpha %(alpha).2f"
    )
    percent: int
    alpha: float


@dataclass(frozen=True, slots=True)
class Unreliable(Sentence):
    """Alpha below 0.667."""

    template: ClassVar[str] = (
        "the raters do not agree enough to rely on one of them: %(percent)d of 100 pairs of ratings "
        "are equal, alpha %(alpha).2f; rate some panels together and talk about the differences"
    )
    percent: int
    alpha: float


def agreement_in_words(alpha: float | None, observed_agreement: float) -> Sentence:
    """Return the sentence a page shows; the observed agreement always stands beside alpha.

    Where nearly everything passes, alpha is low although the raters mostly
    agree, so neither number says enough alone.  Limits: K. Krippendorff (2004),
    Content Analysis, 2nd ed., p. 241 (from memory).
    """
    percent = round(100 * observed_agreement)
    if alpha is None:
        return NoVariation()
    kind = Reliable if alpha >= RELIABLE else Tentative if alpha >= TENTATIVE else Unreliable
    return kind(percent, alpha)
