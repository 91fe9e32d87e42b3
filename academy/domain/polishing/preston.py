"""How much a set of passes takes off, by Preston's proportionality.

``h = k p s``: depth is proportional to pressure and to sliding distance
(F. W. Preston 1927, Journal of the Society of Glass Technology 11, 214).
No coefficient for clear coat is published.  The shop's own readings give
one for a pad with an abrasive; until then only ratios mean anything.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import exp

from academy.domain.polishing.dwell import dwell_per_pass_s, sliding_distance_m
from academy.domain.polishing.pressure import flat_pressure_kpa

PA_PER_KPA = 1000.0
UM_PER_M = 1e6
MM3_PER_M3 = 1e9


@dataclass(frozen=True, slots=True)
class SetOfPasses:
    """One way of working a section: force, pad, hand and machine speed."""

    force_n: float
    pad_mm: float
    arm_speed_mm_s: float
    overlap: float
    passes: float
    mean_m_s: float

    @property
    def pressure_kpa(self) -> float:
        """The pressure of the flat pad."""
        return flat_pressure_kpa(self.force_n, self.pad_mm)

    @property
    def sliding_m(self) -> float:
        """The mean sliding distance over a point of the section."""
        dwell_s = dwell_per_pass_s(self.pad_mm, self.arm_speed_mm_s, self.overlap)
        return sliding_distance_m(self.mean_m_s, dwell_s, self.passes)


def removed_um(coefficient_m2_n: float, pressure_kpa: float, sliding_m: float) -> float:
    """Return the depth removed, ``h = k p s``, in micrometres."""
    return coefficient_m2_n * pressure_kpa * PA_PER_KPA * sliding_m * UM_PER_M


def removal_ratio(reference: SetOfPasses, choice: SetOfPasses) -> float:
    """Return how many times the reference's depth the choice takes off.

    The coefficient cancels, so this needs no fit; it holds for the same pad
    material, abrasive and paint.
    """
    chosen = choice.pressure_kpa * choice.sliding_m
    return chosen / (reference.pressure_kpa * reference.sliding_m)


def fitted_coefficient_m2_n(depth_um: float, work: SetOfPasses) -> float:
    """Return the shop's own coefficient from a measured depth, ``k = h/(p s)``."""
    return depth_um / UM_PER_M / (work.pressure_kpa * PA_PER_KPA * work.sliding_m)


def removal_rate_mm3_s(coefficient_m2_n: float, force_n: float, mean_m_s: float) -> float:
    """Return the volume removed each second, ``k F v̄``.

    The pad's size does not enter: at the same hand force half the diameter
    takes the same volume off a smaller area, so it goes deeper.
    """
    return coefficient_m2_n * force_n * mean_m_s * MM3_PER_M3


def removed_volume_mm3(depth_um: float, section_mm: float) -> float:
    """Return the volume of paint in a depth over a square section."""
    return depth_um / 1000.0 * section_mm**2


@dataclass(frozen=True, slots=True)
class DiminishingAbrasive:
    """An abrasive whose coefficient falls as it breaks down.

    ``k(s) = k_end + (k_start − k_end) exp(−s/s_b)``.  No curve is published
    for paint: the three constants are the shop's own, or an example.
    """

    start_m2_n: float
    end_m2_n: float
    breakdown_m: float

    def coefficient_m2_n(self, sliding_m: float) -> float:
        """Return the coefficient after ``sliding_m`` of work."""
        fresh = exp(-sliding_m / self.breakdown_m)
        return self.end_m2_n + (self.start_m2_n - self.end_m2_n) * fresh

    def mean_coefficient_m2_n(self, sliding_m: float) -> float:
        """Return the mean coefficient over the first ``sliding_m`` of work."""
        if sliding_m == 0.0:
            return self.start_m2_n
        worked = sliding_m / self.breakdown_m
        fresh = (1.0 - exp(-worked)) / worked
        return self.end_m2_n + (self.start_m2_n - self.end_m2_n) * fresh
