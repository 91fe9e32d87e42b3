"""How far a pass or fail can be trusted: would another form decide alike, and rightly?

From mean and variance alone: a beta distribution of true shares and binomial
errors.  H. Huynh (1976), Journal of Educational Measurement 13, 253 (page from
memory).
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import ClassVar

import numpy as np
from numpy.typing import NDArray

from academy.domain.sentences import TradeError

Numbers = NDArray[np.float64]
# A cut of 14.000000000000002 questions means 14.
ON_THE_CUT = 1e-9


@dataclass(eq=False)
class NoSpreadBeyondLuck(TradeError):
    """KR-21 at or below 0: no beta distribution of true shares fits."""

    template: ClassVar[str] = (
        "KR-21 is %(kr21).3f: the scores spread no more than luck alone would spread them, so "
        "nothing says how far a pass can be trusted"
    )
    kr21: float


@dataclass(eq=False)
class EverybodyTheSame(TradeError):
    """A mean at 0 or at full marks leaves nothing to decide."""

    template: ClassVar[str] = (
        "everybody has the same score, so nothing says how far a pass can be trusted"
    )


@dataclass(eq=False)
class AllOrNothing(TradeError):
    """KR-21 is 1: scores of 0 and of full marks alone."""

    template: ClassVar[str] = (
        "everybody has all questions right or none, so no spread of true shares can be fitted"
    )


@dataclass(frozen=True, slots=True)
class DecisionQuality:
    """Chances over trainees and forms.

    `consistency` (p): two forms decide alike; `kappa`: that beyond chance,
    None where everybody or nobody passes; `false_pass`: passed though the
    true share is below the cut; `false_fail`: failed though it is not.
    """

    consistency: float
    kappa: float | None
    pass_rate: float
    false_pass: float
    false_fail: float


def kr21(items: int, mean: float, variance: float) -> float:
    """Return n/(n−1)·(1 − M(n−M)/(n·V)), V over n.  G. F. Kuder, M. W. Richardson (1937), formula 21.

    Raises
    ------
    EverybodyTheSame
    """
    if variance <= 0 or items < 2:
        raise EverybodyTheSame
    return items / (items - 1) * (1 - mean * (items - mean) / (items * variance))


@dataclass(frozen=True, slots=True)
class TrueShares:
    """True shares of the questions people can answer: Beta(a, b)."""

    a: float
    b: float

    def kr21(self, items: int) -> float:
        """KR-21 of a form of so many questions, n/(n + a + b): Spearman-Brown exactly."""
        return items / (items + self.a + self.b)


def true_shares(items: int, mean: float, variance: float) -> TrueShares:
    """Return the beta distribution behind scores of this mean and population variance.

    a = (1/KR21 − 1)·M, b = −a + n/KR21 − n.

    Raises
    ------
    NoSpreadBeyondLuck, EverybodyTheSame, AllOrNothing
    """
    reliability = kr21(items, mean, variance)
    if reliability <= 0:
        raise NoSpreadBeyondLuck(reliability)
    a = (1 / reliability - 1) * mean
    b = -a + items / reliability - items
    if a <= 0 or b <= 0:
        raise AllOrNothing
    return TrueShares(a, b)


def points_for(cut: float) -> int:
    """Return the fewest right answers at or above a cut in questions; never rounded down."""
    return math.ceil(cut - ON_THE_CUT)


def beta_binomial_quality(shares: TrueShares, items: int, cut: float) -> DecisionQuality:
    """Return the quality of passing at `cut` questions of `items`, by the beta-binomial model.

    Two forms: P(x, y) = C(n,x)·C(n,y)·B(a+x+y, b+2n−x−y)/B(a, b).  Wrongly
    passed: over the passing scores, the posterior chance of a true share below
    cut/n, I(cut/n; a+x, b+n−x).
    """
    from scipy.special import betainc, betaln, gammaln

    a, b, needed = shares.a, shares.b, points_for(cut)
    score = np.arange(items + 1)
    ways = gammaln(items + 1) - gammaln(score + 1) - gammaln(items - score + 1)
    one = np.exp(ways + betaln(a + score, b + items - score) - betaln(a, b))
    both = score[:, None] + score
    two = np.exp(ways[:, None] + ways + betaln(a + both, b + 2 * items - both) - betaln(a, b))
    passes = score >= needed
    below = betainc(a + score, b + items - score, min(max(cut / items, 0.0), 1.0))
    return _quality(
        consistency=float(two[np.ix_(passes, passes)].sum() + two[np.ix_(~passes, ~passes)].sum()),
        pass_rate=float(one[passes].sum()),
        false_pass=float((one * below)[passes].sum()),
        false_fail=float((one * (1 - below))[~passes].sum()),
    )


def _quality(
    consistency: float, pass_rate: float, false_pass: float, false_fail: float
) -> DecisionQuality:
    # Sums of chances end a rounding error above 1.
    consistency, pass_rate = min(consistency, 1.0), min(pass_rate, 1.0)
    by_chance = pass_rate**2 + (1 - pass_rate) ** 2
    decided_both_ways = 1 - by_chance > 1e-12
    kappa = (consistency - by_chance) / (1 - by_chance) if decided_both_ways else None
    return DecisionQuality(consistency, kappa, pass_rate, false_pass, false_fail)


def modelled_quality(chances: Numbers, share: Numbers, cut: float) -> DecisionQuality:
    """Return the quality of passing one form at `cut` questions, from a fitted response model.

    Parameters
    ----------
    chances : shape (questions, abilities)
        chance of a right answer at each ability
    share : shape (abilities,)
        share of trainees at each ability, adding to 1
    cut
        in questions; an ability is truly sufficient where its expected score reaches it

    Notes
    -----
    Two forms with the same questions' statistics decide independently at a
    given ability: W. Lee (2010), Journal of Educational Measurement 47, 1
    (page from memory).
    """
    from academy.domain.assessment.score_distribution import chance_of_passing

    passing = chance_of_passing(chances, points_for(cut))
    sufficient = chances.sum(axis=0) >= cut - ON_THE_CUT
    return _quality(
        consistency=float(share @ (passing**2 + (1 - passing) ** 2)),
        pass_rate=float(share @ passing),
        false_pass=float(share[~sufficient] @ passing[~sufficient]),
        false_fail=float(share[sufficient] @ (1 - passing[sufficient])),
    )


def lengthened(reliability: float, times: float) -> float:
    """Return the reliability of a form `times` as long.

    k·r/(1 + (k−1)·r); C. Spearman (1910) and W. Brown (1910), British Journal
    of Psychology 3, 271 and 296.
    """
    return times * reliability / (1 + (times - 1) * reliability)


def times_for(reliability: float, wanted: float) -> float:
    """Return how many times as long a form has to be for a reliability; both between 0 and 1."""
    return wanted * (1 - reliability) / (reliability * (1 - wanted))
