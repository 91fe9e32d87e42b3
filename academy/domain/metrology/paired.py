"""The mean difference of paired values, first minus second."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from academy.domain.metrology.errors import TooFewReadings, UnlikeLengths
from academy.domain.metrology.exact import (
    Written,
    exact_all,
    mean_of,
    square_root,
    squared_deviations,
)
from academy.domain.metrology.uncertainty import coverage_factor


@dataclass(frozen=True, slots=True)
class PairedDifference:
    """The mean of first − second with its 95 % interval.

    `t` and `p_two_sided` are None where every difference is the same: t would
    be a division by 0.
    """

    n: int
    mean_difference: float
    sd: float
    t: float | None
    df: int
    p_two_sided: float | None
    lower: float
    upper: float


def paired_difference(first: Sequence[Written], second: Sequence[Written]) -> PairedDifference:
    """Return d̄, s(d), t = d̄/(s/√n) and the interval d̄ ± t₀.₉₇₅(n−1)·s/√n, in the values' unit.

    Same spots, same gauge: what the two readings of a pair share drops out of
    their difference.  "Student" (1908), Biometrika 6, 1.

    Raises
    ------
    UnlikeLengths
        the two lists differ in length
    TooFewReadings
        fewer than two pairs
    """
    if len(first) != len(second):
        raise UnlikeLengths(len(first), len(second))
    differences = [a - b for a, b in zip(exact_all(first), exact_all(second), strict=True)]
    n = len(differences)
    if n < 2:
        raise TooFewReadings(taken=n, needed=2)
    mean, variance = mean_of(differences), squared_deviations(differences) / (n - 1)
    half = coverage_factor(n - 1) * square_root(variance / n)
    t = None if variance == 0 else (1 if mean >= 0 else -1) * square_root(mean**2 * n / variance)
    return PairedDifference(
        n=n,
        mean_difference=float(mean),
        sd=square_root(variance),
        t=t,
        df=n - 1,
        p_two_sided=None if t is None else _two_sided(t, n - 1),
        lower=float(mean) - half,
        upper=float(mean) + half,
    )


def _two_sided(t: float, df: int) -> float:
    from scipy.special import stdtr

    return float(2 * stdtr(df, -abs(t)))
