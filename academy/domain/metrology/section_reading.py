"""What the gauge says of one section: its mean removal, how far the gauge alone may be off, the evenness."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from academy.domain.metrology.errors import TooFewReadings, UnknownRepeatability
from academy.domain.metrology.exact import Written
from academy.domain.metrology.gauge_reach import smallest_removal_um
from academy.domain.metrology.removal import SpotReadings, removal_at_spots

RESOLVED_IN_LIMIT = 3


@dataclass(frozen=True, slots=True)
class SectionReading:
    """One section's mean removal, in micrometres.

    ``u_um`` is the standard uncertainty that the gauge's scatter alone gives
    the mean; what differs from spot to spot is the trainee's and is no part of
    it.  ``unevenness_um`` is that difference, as a standard deviation, None
    where nothing tells the gauge's share.  ``resolves_um`` is the smallest mean
    removal that these readings tell from nothing.
    """

    removed_um: float
    u_um: float
    limit_um: float
    unevenness_um: float | None = None

    @property
    def resolves_um(self) -> float:
        """Return the smallest removal that is told from nothing, four times in five."""
        return smallest_removal_um(self.u_um / math.sqrt(2), 1)

    @property
    def fine_enough(self) -> bool:
        """Return whether the limit is at least three times what the gauge resolves."""
        return self.limit_um >= RESOLVED_IN_LIMIT * self.resolves_um


def section_reading(
    spots: Sequence[SpotReadings],
    limit_um: float,
    gauge_sd_um: Written | None = None,
    resolution_um: Written | None = None,
) -> SectionReading | None:
    """Return what the gauge says of a section, or None where its scatter is not known.

    A spot's uncertainty is pooled from its repeats before and after, or the
    gauge's own figure where there are none.  The mean over k spots has
    u = √(Σ uᵢ² + 2·r²/12)/k with r the display's last digit: JCGM 100:2008 5.1.2.
    """
    try:
        removal = removal_at_spots(spots, gauge_sd_um, resolution_um)
    except (TooFewReadings, UnknownRepeatability):
        return None
    scatter = [spot.u_um for spot in removal.per_spot if spot.u_um is not None]
    if len(scatter) < len(removal.per_spot):
        return None
    display = len(scatter) * 2 * float(resolution_um or 0) ** 2 / 12
    u_um = math.sqrt(sum(u * u for u in scatter) + display) / len(scatter)
    return SectionReading(removal.removed_um, u_um, limit_um, removal.unevenness_um)


def fine_enough_for(
    limit_um: float, spots: int, readings_per_spot: int, repeatability_um: float
) -> bool:
    """Return whether a task's limit is at least three times what a gauge resolves over a section."""
    resolves_um = smallest_removal_um(repeatability_um, spots * readings_per_spot)
    return limit_um >= RESOLVED_IN_LIMIT * resolves_um
