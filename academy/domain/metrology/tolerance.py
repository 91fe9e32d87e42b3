"""A bound that a stated share of all values keeps to, from a sample."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from academy.domain.metrology.conformity import Side
from academy.domain.metrology.errors import TooFewReadings
from academy.domain.metrology.exact import (
    Written,
    exact_all,
    mean_of,
    square_root,
    squared_deviations,
)


@dataclass(frozen=True, slots=True)
class ToleranceBound:
    """The factor k and the bound mean ∓ k·s in the values' unit."""

    k: float
    bound: float


def tolerance_factor(n: int, coverage: float, confidence: float) -> float:
    """Return the one-sided normal tolerance factor k.

    k = t′(confidence; n−1, z_coverage·√n)/√n with t′ the quantile of the
    noncentral t distribution.  NIST/SEMATECH e-Handbook 7.2.6.3; W. A. Wallis,
    in Techniques of Statistical Analysis (1947).
    """
    from scipy.special import nctdtrit, ndtri

    if n < 2:
        raise TooFewReadings(taken=n, needed=2)
    return float(nctdtrit(n - 1, ndtri(coverage) * math.sqrt(n), confidence)) / math.sqrt(n)


def tolerance_bound(
    values: Sequence[Written], coverage: float, confidence: float, side: Side
) -> ToleranceBound:
    """Return the bound that a share `coverage` of all values keeps to, with `confidence`.

    `Side.MINIMUM` gives a lower bound mean − k·s, `Side.MAXIMUM` an upper one.
    The values have to be normally distributed: look at them first.
    """
    numbers = exact_all(values)
    k = tolerance_factor(len(numbers), coverage, confidence)
    reach = k * square_root(squared_deviations(numbers) / (len(numbers) - 1))
    mean = float(mean_of(numbers))
    return ToleranceBound(k, mean - reach if side is Side.MINIMUM else mean + reach)
