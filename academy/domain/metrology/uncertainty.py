"""Standard uncertainties, how they combine, and the interval they give.

JCGM 100:2008 (the GUM).  Clause numbers from memory; every printed value that
the tests name is reproduced.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

COVERAGE = 0.95
# Student's t is the normal value to the last digit from here on.
AS_GOOD_AS_INFINITE = 10**15


@dataclass(frozen=True, slots=True)
class Component:
    """One variance that adds to a result; `df` None means infinitely many degrees of freedom."""

    variance: Fraction
    df: int | None


@dataclass(frozen=True, slots=True)
class Combined:
    """A combined variance with its effective degrees of freedom, truncated; None is infinite."""

    variance: Fraction
    df: int | None


def combined(components: Sequence[Component]) -> Combined:
    """Add variances; effective degrees of freedom by Welch and Satterthwaite, truncated.

    ν = (Σ vᵢ)² / Σ (vᵢ²/νᵢ), GUM G.4.1 and G.4.2 (truncate down).  Kept in
    fractions, so that one component with 4 degrees of freedom gives 4 and not
    3.9999999 truncated to 3.  Components of variance 0 carry no weight; where
    all are 0 the smallest count of degrees of freedom stands.
    """
    total = sum((component.variance for component in components), Fraction(0))
    finite = [component for component in components if component.df is not None]
    if total == 0:
        return Combined(
            total, min((component.df for component in finite if component.df), default=None)
        )
    spread = sum((component.variance**2 / (component.df or 1) for component in finite), Fraction(0))
    return Combined(total, None if spread == 0 else math.floor(total**2 / spread))


def effective_degrees_of_freedom(uncertainties: Sequence[float], dfs: Sequence[float]) -> float:
    """Return Welch-Satterthwaite degrees of freedom, not truncated; GUM G.2b.  Infinite `dfs` carry no weight."""
    total = math.fsum(u * u for u in uncertainties)
    spread = math.fsum(u**4 / df for u, df in zip(uncertainties, dfs, strict=True))
    return math.inf if spread == 0 else total * total / spread


def root_sum_square(uncertainties: Sequence[float]) -> float:
    """Return √Σuᵢ² for independent contributions, all in one unit; GUM 5.1.2."""
    return math.hypot(*uncertainties)


def rectangular(half_width: float) -> float:
    """Return the standard uncertainty a/√3 of a value anywhere within ±a; GUM 4.3.7."""
    return half_width / math.sqrt(3)


def triangular(half_width: float) -> float:
    """Return the standard uncertainty a/√6 of a value within ±a that is likelier in the middle; GUM 4.3.9."""
    return half_width / math.sqrt(6)


def resolution_variance(resolution: Fraction) -> Fraction:
    """Return r²/12, the variance from a display's last digit r; GUM F.2.2.1."""
    return resolution**2 / 12


def coverage_factor(df: float | None, coverage: float = COVERAGE) -> float:
    """Return Student's t for a two-sided interval; df None is infinite (the normal value).

    For 3 readings (df 2) this is 4.30, for 5 it is 2.78: the usual factor of 2
    would make the interval far too short.  GUM Table G.2.
    """
    from scipy.special import ndtri, stdtrit

    quantile = (1 + coverage) / 2
    return float(
        ndtri(quantile) if df is None or df > AS_GOOD_AS_INFINITE else stdtrit(df, quantile)
    )


def relative_uncertainty_of_sd(readings: int) -> float:
    """Return by what share a standard deviation from n normal readings is itself uncertain.

    √(1−c₄²)/c₄ with c₄ = √(2/(n−1)) Γ(n/2)/Γ((n−1)/2); GUM E.4.3, Table E.1.
    """
    c4 = math.sqrt(2 / (readings - 1)) * math.exp(
        math.lgamma(readings / 2) - math.lgamma((readings - 1) / 2)
    )
    return math.sqrt(1 - c4 * c4) / c4
