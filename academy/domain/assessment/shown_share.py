"""A share of right answers as a page shows it: never a bare percentage of a few answers.

Few answers are drawn towards what the whole bank is like and shown with an
interval.  Beta-binomial model: share ~ Beta(a, b) over the bank, so after r
right of n the share is Beta(a + r, b + n − r).  A. Gelman and others (2013),
Bayesian Data Analysis, 3rd ed., section 5.1, for the prior from moments.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import ClassVar

from academy.domain.assessment.proportion import Interval
from academy.domain.sentences import Sentence

FEWEST_FOR_A_PERCENTAGE = 30
# With fewer questions than this the bank says too little about the next one.
FEWEST_FOR_A_PRIOR = 5


@dataclass(frozen=True, slots=True)
class BetaPrior:
    """Shares over the bank: Beta(a, b)."""

    a: float
    b: float


UNKNOWN_BANK = BetaPrior(1.0, 1.0)


def prior_from_moments(mean: float, variance: float) -> BetaPrior | None:
    """Return the Beta with this mean and variance; None where there is none.

    a + b = m(1 − m)/v − 1, a = m(a + b), b = (1 − m)(a + b).
    """
    if not (0 < mean < 1 and 0 < variance < mean * (1 - mean)):
        return None
    strength = mean * (1 - mean) / variance - 1
    return BetaPrior(mean * strength, (1 - mean) * strength)


def prior_of_bank(right: Sequence[int], answered: Sequence[int]) -> BetaPrior:
    """Return the prior from a bank's questions, with the luck of few answers taken out of the variance.

    The variance of observed shares holds p(1−p)/n of luck for each question;
    what is left over is the bank's (J. C. Kleinman 1973, JASA 68, 46, with
    equal weights; page from memory).  Uniform where the bank says too little.
    """
    asked = [(r, n) for r, n in zip(right, answered, strict=True) if n > 1]
    if len(asked) < FEWEST_FOR_A_PRIOR:
        return UNKNOWN_BANK
    shares = [r / n for r, n in asked]
    mean = sum(shares) / len(shares)
    observed = sum((share - mean) ** 2 for share in shares) / (len(shares) - 1)
    luck = sum(
        share * (1 - share) / (n - 1) for share, (_, n) in zip(shares, asked, strict=True)
    ) / len(shares)
    return prior_from_moments(mean, observed - luck) or UNKNOWN_BANK


@dataclass(frozen=True, slots=True)
class FewAnswers(Sentence):
    """What a page says below 30 answers: counts and a range."""

    template: ClassVar[str] = (
        "%(right)d of %(answered)d right; of many, likely %(lower_percent)d to %(upper_percent)d in 100"
    )
    right: int
    answered: int
    lower_percent: int
    upper_percent: int


@dataclass(frozen=True, slots=True)
class ManyAnswers(Sentence):
    """What a page says from 30 answers on: a percentage with its count and range."""

    template: ClassVar[str] = (
        "%(percent)d %% right (%(right)d of %(answered)d; likely %(lower_percent)d to %(upper_percent)d %%)"
    )
    percent: int
    right: int
    answered: int
    lower_percent: int
    upper_percent: int


@dataclass(frozen=True, slots=True)
class NoAnswers(Sentence):
    """What a page says of a question nobody was asked."""

    template: ClassVar[str] = "not answered yet"


@dataclass(frozen=True, slots=True)
class ShownShare:
    """The share after shrinking, its interval, and the sentence a page shows."""

    share: float
    interval: Interval
    sentence: Sentence


def shown_share(
    right: int, answered: int, prior: BetaPrior = UNKNOWN_BANK, confidence: float = 0.95
) -> ShownShare:
    """Return a question's share right as it may be shown; the interval is the posterior's equal-tailed one."""
    from scipy.special import betaincinv

    a, b = prior.a + right, prior.b + answered - right
    tail = (1 - confidence) / 2
    interval = Interval(float(betaincinv(a, b, tail)), float(betaincinv(a, b, 1 - tail)))
    return ShownShare(a / (a + b), interval, _sentence(right, answered, interval))


def _sentence(right: int, answered: int, interval: Interval) -> Sentence:
    lower, upper = round(100 * interval.lower), round(100 * interval.upper)
    if not answered:
        return NoAnswers()
    if answered < FEWEST_FOR_A_PERCENTAGE:
        return FewAnswers(right, answered, lower, upper)
    return ManyAnswers(round(100 * right / answered), right, answered, lower, upper)
