"""One-way analysis of variance: do groups of readings differ by more than their scatter?"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from academy.domain.metrology.errors import NothingVaries, TooFewReadings
from academy.domain.metrology.exact import (
    Written,
    exact_all,
    mean_of,
    square_root,
    squared_deviations,
)


@dataclass(frozen=True, slots=True)
class OneWay:
    """The table of a one-way analysis of variance; `p` is the chance of an F at least this large."""

    f: float
    p: float
    df_between: int
    df_within: int
    ss_between: float
    ss_within: float
    r2: float
    residual_sd: float


def one_way(groups: Sequence[Sequence[Written]]) -> OneWay:
    """Return F = (SSB/(k−1)) / (SSW/(n−k)) for k groups of n values in all.

    Parameters
    ----------
    groups : k ≥ 2 sequences, each of one value or more, n > k

    Raises
    ------
    TooFewReadings
        fewer than two groups, an empty group, or no group with a repeat
    NothingVaries
        no group varies within itself: F would be a division by 0

    References
    ----------
    R. A. Fisher (1925), Statistical Methods for Research Workers, ch. VII; the
    certified values of the NIST Statistical Reference Datasets, one-way ANOVA.
    """
    numbers = [exact_all(group) for group in groups]
    count = sum(len(group) for group in numbers)
    if len(numbers) < 2 or not all(numbers) or count <= len(numbers):
        raise TooFewReadings(taken=count, needed=max(3, len(numbers) + 1))
    within = sum((squared_deviations(group) for group in numbers), Fraction(0))
    if within == 0:
        raise NothingVaries("the values within each group", "F")
    overall = sum((sum(group, Fraction(0)) for group in numbers), Fraction(0)) / count
    between = sum((len(group) * (mean_of(group) - overall) ** 2 for group in numbers), Fraction(0))
    return _table(between, within, len(numbers) - 1, count - len(numbers))


def _table(between: Fraction, within: Fraction, df_between: int, df_within: int) -> OneWay:
    from scipy.special import fdtrc

    f = float((between / df_between) / (within / df_within))
    return OneWay(
        f=f,
        p=float(fdtrc(df_between, df_within, f)),
        df_between=df_between,
        df_within=df_within,
        ss_between=float(between),
        ss_within=float(within),
        r2=float(between / (between + within)),
        residual_sd=square_root(within / df_within),
    )
