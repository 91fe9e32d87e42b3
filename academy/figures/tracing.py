"""The path that a point of a pad draws, in millimetres and in the drawing."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from academy.figures.svg import Point

SAMPLES_PER_TURN = 48


@dataclass(frozen=True, slots=True)
class Motion:
    """How a machine moves its pad; a rotary has neither throw nor orbits."""

    throw_mm: float
    orbits_per_min: float
    spin_rpm: float

    def mean_speed_m_s(self, radius_mm: float) -> float:
        """Return the mean speed of a point ``radius_mm`` out, over many turns."""
        import numpy as np

        from academy.domain.polishing import kinematics

        spin_m_s = kinematics.rim_speed_m_s(2 * radius_mm, abs(self.spin_rpm))
        orbit_m_s = kinematics.orbit_speed_m_s(self.throw_mm, self.orbits_per_min)
        return float(kinematics.mean_at_radius_m_s(orbit_m_s, np.array([spin_m_s]))[0])


def path_mm(
    throw_mm: float, radius_mm: float, orbits: float, spins: float
) -> list[tuple[float, float]]:
    """Return the path of one point in millimetres around the spindle, y upwards.

    The pad's centre goes ``orbits`` times round a circle of diameter
    ``throw_mm`` while the point, ``radius_mm`` out, turns about that centre
    ``spins`` times: ``p = (D/2) e^(2πi o) + r e^(2πi s)``.  A rotary has no
    orbit.  Plain geometry, no source needed.
    """
    steps = max(1, math.ceil(SAMPLES_PER_TURN * max(orbits, abs(spins))))
    places = []
    for step in range(steps + 1):
        turned, spun = (2 * math.pi * turns * step / steps for turns in (orbits, spins))
        x = throw_mm / 2 * math.cos(turned) + radius_mm * math.cos(spun)
        y = throw_mm / 2 * math.sin(turned) + radius_mm * math.sin(spun)
        places.append((x, y))
    return places


def placed(
    places: Sequence[tuple[float, float]], centre: Point, units_per_mm: float
) -> list[Point]:
    """Return a path in the drawing's units around ``centre``."""
    return [Point(centre.x + x * units_per_mm, centre.y - y * units_per_mm) for x, y in places]
