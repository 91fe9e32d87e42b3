"""Does a value with an uncertainty keep to a limit?  Probabilities and guard bands.

JCGM 106:2012, The role of measurement uncertainty in conformity assessment;
ILAC-G8:09/2019, Guidelines on decision rules.
"""

from __future__ import annotations

from enum import Enum


class Side(Enum):
    """Which side of a limit is allowed."""

    MINIMUM = "minimum"
    MAXIMUM = "maximum"


class FourWay(Enum):
    """The outcomes of the non-binary decision rule of ILAC-G8 4.2.3."""

    PASS = "pass"
    CONDITIONAL_PASS = "conditional pass"
    CONDITIONAL_FAIL = "conditional fail"
    FAIL = "fail"


def conformity_probability(
    value: float, u: float, *, lower: float | None = None, upper: float | None = None
) -> float:
    """Return the probability that the true value lies between the limits.

    p = Φ((upper−y)/u) − Φ((lower−y)/u) for a normal error with standard
    uncertainty u > 0; JCGM 106:2012 7.2 to 7.4.  Both tails are taken on the
    side where they are small, so that a value far beyond a limit keeps its digits.
    """
    from scipy.special import ndtr

    if upper is None and lower is None:
        raise ValueError("a conformity probability needs a limit")
    if upper is None:
        return float(ndtr((value - _given(lower)) / u))
    if lower is None:
        return float(ndtr((upper - value) / u))
    if value > (lower + upper) / 2:
        lower, upper, value = -upper, -lower, -value
    return float(ndtr((upper - value) / u) - ndtr((lower - value) / u))


def guard_band(u: float, risk: float) -> float:
    """Return g = z(1−risk)·u: the distance from the limit at which the chance of a wrong yes is `risk`.

    JCGM 106:2012 8.3.2; 1.64 u for 5 %, 2.33 u for 1 % (Eurachem/CITAC guide).
    """
    from scipy.special import ndtri

    return float(-ndtri(risk)) * u


def acceptance_limit(limit: float, u: float, risk: float, side: Side) -> float:
    """Return the limit drawn in by the guard band: above a minimum, below a maximum."""
    band = guard_band(u, risk)
    return limit + band if side is Side.MINIMUM else limit - band


def four_way(value: float, minimum: float, band: float) -> FourWay:
    """Return the outcome against a minimum with a guard band on both sides.

    ILAC-G8:09/2019 4.2.3 gives it for a maximum; mirrored here.  On which side
    equality falls is our choice: with the better outcome.
    """
    if value >= minimum + band:
        return FourWay.PASS
    if value >= minimum:
        return FourWay.CONDITIONAL_PASS
    return FourWay.CONDITIONAL_FAIL if value >= minimum - band else FourWay.FAIL


def _given(limit: float | None) -> float:
    assert limit is not None
    return limit
