"""Hand-arm vibration: the day's exposure against its action and limit values.

Use the magnitude measured at the machine in use, or the maker's declared
value with its uncertainty added, and the time the hand is on a running
machine, not the length of the shift.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import sqrt

REFERENCE_H = 8.0
# Directive 2002/44/EC, article 3.
ACTION_VALUE_M_S2 = 2.5
LIMIT_VALUE_M_S2 = 5.0
POINTS_AT_ACTION_VALUE = 100.0
# A day exactly at a value has reached it; this much is rounding of the sum.
ROUNDING = 1e-12


@dataclass(frozen=True, slots=True)
class VibrationExposure:
    """One machine's magnitude and the time the hands were on it while it ran."""

    magnitude_m_s2: float
    hours: float


@dataclass(frozen=True, slots=True)
class DailyVibration:
    """A day's vibration, its points and which values it has reached."""

    a8_m_s2: float
    points: float

    @property
    def action_value_reached(self) -> bool:
        """Whether the employer must act."""
        return self.a8_m_s2 >= ACTION_VALUE_M_S2 * (1.0 - ROUNDING)

    @property
    def limit_value_reached(self) -> bool:
        """Whether the day is at or over what must not be exceeded."""
        return self.a8_m_s2 >= LIMIT_VALUE_M_S2 * (1.0 - ROUNDING)


def daily_vibration(exposures: Sequence[VibrationExposure]) -> DailyVibration:
    """Return ``A(8) = √(Σ a² T/8)`` and points ``Σ 2 a² T`` with T in hours.

    A(8): Directive 2002/44/EC, annex A.1.  Points, 100 at the action value:
    the British exposure ready-reckoner, ``(a/2.5)² (T/8) 100``.
    """
    squares = sum(exposure.magnitude_m_s2**2 * exposure.hours for exposure in exposures)
    return DailyVibration(sqrt(squares / REFERENCE_H), 2.0 * squares)


def hours_to_reach(a8_m_s2: float, magnitude_m_s2: float) -> float:
    """Return how long one machine may run before the day reaches ``a8_m_s2``, ``8 (A/a)²`` hours.

    More than 24 means the value is not reached in a day.
    """
    return REFERENCE_H * (a8_m_s2 / magnitude_m_s2) ** 2


def a8_from_points(points: float) -> float:
    """Return the A(8) that a number of points stands for, ``2.5 √(points/100)`` m/s²."""
    return ACTION_VALUE_M_S2 * sqrt(points / POINTS_AT_ACTION_VALUE)


def points_from_a8(a8_m_s2: float) -> float:
    """Return the points of an A(8), ``100 (A/2.5)²``."""
    return POINTS_AT_ACTION_VALUE * (a8_m_s2 / ACTION_VALUE_M_S2) ** 2


def vector_total_m_s2(x_m_s2: float, y_m_s2: float, z_m_s2: float) -> float:
    """Return the total of the three axes, ``√(x² + y² + z²)`` (ISO 5349-1)."""
    return sqrt(x_m_s2**2 + y_m_s2**2 + z_m_s2**2)
