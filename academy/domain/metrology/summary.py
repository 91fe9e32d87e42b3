"""Mean, standard deviation and lag-1 autocorrelation of readings."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise

from academy.domain.metrology.errors import TooFewReadings
from academy.domain.metrology.exact import (
    Written,
    exact_all,
    mean_of,
    square_root,
    squared_deviations,
)


@dataclass(frozen=True, slots=True)
class Summary:
    """A set of values in brief; None where the set has no such value.

    `sd` is the sample standard deviation (divisor n − 1) and needs two
    values; `cv_percent` needs a mean other than 0; `lag1_autocorrelation`
    needs values that differ.
    """

    n: int
    mean: float
    sd: float | None
    minimum: float
    maximum: float
    cv_percent: float | None
    lag1_autocorrelation: float | None


def summarise(values: Sequence[Written]) -> Summary:
    """Return the summary of `values`, in their unit.

    Parameters
    ----------
    values : shape (n,), n ≥ 1
        numbers or decimal texts; computed exactly and rounded once

    Raises
    ------
    TooFewReadings
        no values

    References
    ----------
    mean, s with n − 1 and r₁ = Σ(yᵢ−ȳ)(yᵢ₋₁−ȳ) / Σ(yᵢ−ȳ)² as certified by the
    NIST Statistical Reference Datasets, univariate summary statistics.
    """
    numbers = exact_all(values)
    if not numbers:
        raise TooFewReadings(taken=0, needed=1)
    mean, squares, n = mean_of(numbers), squared_deviations(numbers), len(numbers)
    sd = square_root(squares / (n - 1)) if n > 1 else None
    return Summary(
        n=n,
        mean=float(mean),
        sd=sd,
        minimum=float(min(numbers)),
        maximum=float(max(numbers)),
        cv_percent=100 * square_root(squares / (n - 1) / mean**2) if n > 1 and mean else None,
        lag1_autocorrelation=_lag1(numbers, mean, squares),
    )


def _lag1(numbers: list[Fraction], mean: Fraction, squares: Fraction) -> float | None:
    if squares == 0:
        return None
    products = sum(
        ((later - mean) * (earlier - mean) for earlier, later in pairwise(numbers)), Fraction(0)
    )
    return float(products / squares)
