"""What a few passes out of a few tries say about the share a trainee passes.

Used with small counts near 1, where the everyday interval p ± 1.96·se leaves
the range from 0 to 1.  L. D. Brown, T. T. Cai, A. DasGupta (2001), Statistical
Science 16, 101 compares the three.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from fractions import Fraction

# Beyond this a whole quotient comes from no decimal anybody types, and the power would take long.
MOST_EXACT_POWER = 5_000


@dataclass(frozen=True, slots=True)
class Interval:
    """A lower and an upper bound of a share."""

    lower: float
    upper: float


def wilson_interval(passed: int, tried: int, confidence: float = 0.95) -> Interval:
    """Return the score interval of a share.  E. B. Wilson (1927), JASA 22, 209.

    Bounds are 0 with no pass and 1 with nothing but passes, where the formula
    leaves a rounding error.
    """
    from scipy.special import ndtri

    z2 = float(ndtri((1 + confidence) / 2)) ** 2
    share = passed / tried
    middle = (share + z2 / (2 * tried)) / (1 + z2 / tried)
    half = math.sqrt(z2 * (share * (1 - share) + z2 / (4 * tried)) / tried) / (1 + z2 / tried)
    return Interval(
        0.0 if passed == 0 else middle - half,
        1.0 if passed == tried else middle + half,
    )


def clopper_pearson_interval(passed: int, tried: int, confidence: float = 0.95) -> Interval:
    """Return the exact interval, never too short.  C. J. Clopper, E. S. Pearson (1934), Biometrika 26, 404."""
    from scipy.special import betaincinv

    tail = (1 - confidence) / 2
    failed = tried - passed
    return Interval(
        0.0 if passed == 0 else float(betaincinv(passed, failed + 1, tail)),
        1.0 if failed == 0 else float(betaincinv(passed + 1, failed, 1 - tail)),
    )


def jeffreys_interval(passed: int, tried: int, confidence: float = 0.95) -> Interval:
    """Return the equal-tailed interval of Beta(passed+½, failed+½).

    The lower bound is set to 0 with no pass and the upper to 1 with nothing
    but passes, as Brown, Cai and DasGupta (2001) recommend; some programs
    leave the quantile there.
    """
    from scipy.special import betaincinv

    tail = (1 - confidence) / 2
    a, b = passed + 0.5, tried - passed + 0.5
    return Interval(
        0.0 if passed == 0 else float(betaincinv(a, b, tail)),
        1.0 if passed == tried else float(betaincinv(a, b, 1 - tail)),
    )


def panels_for_proof(target: float | Fraction, confidence: float | Fraction) -> int:
    """Return how many panels in a row, all passed, prove a pass rate of `target` or more.

    The smallest n with targetⁿ ≤ 1 − confidence: ⌈ln(1−confidence)/ln(target)⌉,
    decided in fractions where the quotient is a whole number but for rounding.
    29 panels for 0.90 at 95 %; ten out of ten is far from it.
    """
    share, doubt = _decimal(target), 1 - _decimal(confidence)
    estimate = math.log(doubt) / math.log(share)
    nearest = round(estimate)
    in_doubt = 1 <= nearest <= MOST_EXACT_POWER and abs(estimate - nearest) < 1e-6
    if not in_doubt:
        return max(1, math.ceil(estimate))
    return nearest if share**nearest <= doubt else nearest + 1


def _decimal(value: float | Fraction) -> Fraction:
    return value if isinstance(value, Fraction) else Fraction(repr(float(value)))
