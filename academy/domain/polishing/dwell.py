"""How long the pad stays over a point, and how evenly.

The pad is an ideal disc moved in straight parallel rows.  Turning round at
the row ends, hand jitter and a pad that does not lie flat are left out, so
real work takes longer and is less even than these figures.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import floor, pi, sqrt

from academy.domain.sentences import TradeError


@dataclass(eq=False)
class RowsDoNotAdvance(TradeError):
    """An overlap of one or more would work the same row for ever."""

    template = "an overlap of %(overlap)g leaves no step between rows; it must be below 1"
    overlap: float


@dataclass(frozen=True, slots=True)
class Spread:
    """Least, mean and greatest dwell between two rows, as shares of the mean."""

    least: float
    greatest: float

    @property
    def unevenness(self) -> float:
        """(max − min)/mean."""
        return self.greatest - self.least


def row_spacing_mm(pad_mm: float, overlap: float) -> float:
    """Return the step between rows, ``d (1 − o)``; overlap is the share of the pad's width."""
    if not overlap < 1.0:
        raise RowsDoNotAdvance(overlap)
    return pad_mm * (1.0 - overlap)


def dwell_per_pass_s(pad_mm: float, arm_speed_mm_s: float, overlap: float) -> float:
    """Return the mean time a point is under the pad in one pass, ``t = π d/(4 u (1 − o))``.

    The mean chord of a disc is π d/4, and 1/(1 − o) rows reach each point.
    """
    return pi * pad_mm**2 / (4.0 * arm_speed_mm_s * row_spacing_mm(pad_mm, overlap))


def working_time_s(
    section_mm: float, pad_mm: float, arm_speed_mm_s: float, overlap: float, passes: float
) -> float:
    """Return the machine time on a square section, ``T = N L²/(d (1 − o) u)``.

    L/(d(1 − o)) rows of length L; turning round at the row ends is left out.
    """
    rows_mm = section_mm**2 / row_spacing_mm(pad_mm, overlap)
    return passes * rows_mm / arm_speed_mm_s


def arm_speed_mm_s(
    section_mm: float, pad_mm: float, overlap: float, passes: float, seconds: float
) -> float:
    """Return the arm speed behind a working time, ``u = N L²/(d (1 − o) T)``.

    The same model turned round: time spent turning at the row ends counts as
    slower work, so the arm was at least this quick.
    """
    return working_time_s(section_mm, pad_mm, 1.0, overlap, passes) / seconds


def sliding_distance_m(mean_m_s: float, dwell_s: float, passes: float) -> float:
    """Return how far the face slides over a point, ``s = v̄ t N``."""
    return mean_m_s * dwell_s * passes


def spread_between_rows(overlap: float, shifted_sets: int = 1) -> Spread:
    """Return the spread of dwell over one row spacing for an ideal disc.

    ``shifted_sets`` evenly shifted sets of rows are the same as one set at
    that fraction of the spacing: a second set half a row over halves it.
    A second set at right angles does not help the worst point.

    The dwell is a sum of chords.  It is concave between the places where some
    row's edge passes and mirrored about each row, so its least value lies under
    a pad's edge and its greatest on a row or midway between two: three values
    decide, no search is needed.
    """
    spacing = row_spacing_mm(2.0, overlap) / shifted_sets
    mean = pi / spacing
    greatest = max(_chords_mm(0.0, spacing), _chords_mm(spacing / 2.0, spacing))
    return Spread(_chords_mm(1.0, spacing) / mean, greatest / mean)


def _chords_mm(offset: float, spacing: float) -> float:
    """Return the chords of all unit discs on rows ``spacing`` apart, ``offset`` from one of them."""
    nearest = floor(offset / spacing)
    reach = floor(1.0 / spacing) + 2
    distances = (offset - row * spacing for row in range(nearest - reach, nearest + reach + 1))
    return sum(2.0 * sqrt(max(0.0, 1.0 - distance**2)) for distance in distances)
