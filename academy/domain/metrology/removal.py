"""Paint removed at marked spots, with its uncertainty.

A magnetic or eddy-current gauge reads the whole film down to metal, so the
removal is before minus after at the same spot.  What both readings share (the
gauge's bias, the film below) drops out; placing the probe again does not.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from academy.domain.metrology.errors import TooFewReadings, UnknownRepeatability
from academy.domain.metrology.exact import (
    Written,
    exact,
    exact_all,
    mean_of,
    square_root,
    squared_deviations,
)
from academy.domain.metrology.uncertainty import (
    Component,
    combined,
    coverage_factor,
    resolution_variance,
)


@dataclass(frozen=True, slots=True)
class SpotReadings:
    """The readings at one marked spot, before and after the work, in micrometres."""

    before_um: Sequence[Written]
    after_um: Sequence[Written]


@dataclass(frozen=True, slots=True)
class SpotRemoval:
    """Removal at one spot; `u_um`, `lower_um` and `upper_um` are None where nothing tells the scatter.

    `df` None with a `u_um` means infinitely many degrees of freedom.
    """

    removed_um: float
    u_um: float | None
    df: int | None
    lower_um: float | None
    upper_um: float | None


@dataclass(frozen=True, slots=True)
class Removal:
    """The mean removal over the spots, its 95 % interval and the spots one by one.

    `df` None means infinitely many degrees of freedom.  `unevenness_um` is
    the standard deviation between spots beyond what the readings explain.
    """

    removed_um: float
    u_um: float
    df: int | None
    expanded_um: float
    lower_um: float
    upper_um: float
    per_spot: tuple[SpotRemoval, ...]
    unevenness_um: float | None
    max_removed_um: float


@dataclass(frozen=True, slots=True)
class _Spot:
    """One spot's difference and the variance of it, exactly."""

    difference: Fraction
    readings: Component | None


def removal_at_spots(
    spots: Sequence[SpotReadings],
    gauge_sd_um: Written | None = None,
    resolution_um: Written | None = None,
) -> Removal:
    """Return the removal over `spots` with a 95 % interval.

    Parameters
    ----------
    spots : shape (k,), k ≥ 1, one reading or more on each side
    gauge_sd_um
        the gauge's repeatability with the probe placed again, as a standard
        deviation; used where a spot has no repeats
    resolution_um
        the display's last digit

    Raises
    ------
    TooFewReadings
        no spot, or a spot without a reading before or after
    UnknownRepeatability
        one spot with single readings and no `gauge_sd_um`

    Notes
    -----
    dᵢ = mean before − mean after.  Two spots or more: u = s(d)/√k with k−1
    degrees of freedom, as for any paired comparison.  One spot:
    u = s_p·√(1/n_b + 1/n_a) with n_b + n_a − 2, s_p pooled from both sides.
    The display adds 2·(r²/12)/k to the variance.  Expanded by Student's t at
    Welch-Satterthwaite degrees of freedom.  JCGM 100:2008 4.2, 5.1, F.2.2.1,
    G.4.  Unevenness is √max(0, s²(d) − mean uᵢ²).
    """
    if not spots or not all(len(spot.before_um) and len(spot.after_um) for spot in spots):
        raise TooFewReadings(taken=0, needed=1)
    gauge = None if gauge_sd_um is None else exact(gauge_sd_um) ** 2
    worked = [_worked(spot, gauge) for spot in spots]
    differences = [spot.difference for spot in worked]
    display = Component(2 * resolution_variance(exact(resolution_um or 0)) / len(worked), None)
    total = combined([_scatter(worked), display])
    removed, u = float(mean_of(differences)), square_root(total.variance)
    expanded = coverage_factor(total.df) * u
    return Removal(
        removed_um=removed,
        u_um=u,
        df=total.df,
        expanded_um=expanded,
        lower_um=removed - expanded,
        upper_um=removed + expanded,
        per_spot=tuple(_spot_removal(spot) for spot in worked),
        unevenness_um=_unevenness(worked),
        max_removed_um=float(max(differences)),
    )


def _worked(spot: SpotReadings, gauge_variance: Fraction | None) -> _Spot:
    before, after = exact_all(spot.before_um), exact_all(spot.after_um)
    difference = mean_of(before) - mean_of(after)
    share, df = Fraction(1, len(before)) + Fraction(1, len(after)), len(before) + len(after) - 2
    if df > 0:
        pooled = (squared_deviations(before) + squared_deviations(after)) / df
        return _Spot(difference, Component(pooled * share, df))
    return _Spot(
        difference, None if gauge_variance is None else Component(gauge_variance * share, None)
    )


def _scatter(worked: list[_Spot]) -> Component:
    if len(worked) > 1:
        between = squared_deviations([spot.difference for spot in worked]) / (len(worked) - 1)
        return Component(between / len(worked), len(worked) - 1)
    if worked[0].readings is None:
        raise UnknownRepeatability
    return worked[0].readings


def _spot_removal(spot: _Spot) -> SpotRemoval:
    removed = float(spot.difference)
    if spot.readings is None:
        return SpotRemoval(removed, None, None, None, None)
    u = square_root(spot.readings.variance)
    half = coverage_factor(spot.readings.df) * u
    return SpotRemoval(removed, u, spot.readings.df, removed - half, removed + half)


def _unevenness(worked: list[_Spot]) -> float | None:
    known = [spot.readings.variance for spot in worked if spot.readings is not None]
    if len(worked) < 2 or len(known) < len(worked):
        return None
    between = squared_deviations([spot.difference for spot in worked]) / (len(worked) - 1)
    return square_root(max(Fraction(0), between - mean_of(known)))
