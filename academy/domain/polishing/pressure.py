"""What the hand's force becomes under the pad.

The force is shared evenly over whatever part of the face touches: the same
hand on less face is more pressure, which is why edges and crowns burn first.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import acos, pi, sqrt

from academy.domain.sentences import TradeError

STANDARD_GRAVITY_M_S2 = 9.81  # rounded as the trade's tables do; the standard value is 9.80665


@dataclass(eq=False)
class PadOffThePanel(TradeError):
    """The pad hangs out so far that none of it touches."""

    template = "a %(pad_mm)g mm pad with its centre %(overhang_mm)g mm beyond the edge does not touch the panel"
    pad_mm: float
    overhang_mm: float


@dataclass(frozen=True, slots=True)
class ContactPressure:
    """Mean pressure where the face touches, and how many times the flat pad's that is."""

    pressure_kpa: float
    factor: float


def face_area_mm2(pad_mm: float) -> float:
    """Return the area of the whole face."""
    return pi * pad_mm**2 / 4.0


def flat_pressure_kpa(force_n: float, pad_mm: float) -> float:
    """Return the pressure under a flat pad, ``p = 4F/(π d²)``; 1 N/mm² is 1000 kPa."""
    return 1000.0 * force_n / face_area_mm2(pad_mm)


def pressure_on_share(force_n: float, pad_mm: float, share: float) -> ContactPressure:
    """Return the pressure when only ``share`` (0 to 1] of the face touches."""
    return ContactPressure(flat_pressure_kpa(force_n, pad_mm) / share, 1.0 / share)


def pressure_flat(force_n: float, pad_mm: float) -> ContactPressure:
    """Return the pressure of a pad that lies flat with its whole face."""
    return pressure_on_share(force_n, pad_mm, 1.0)


def pressure_at_edge(force_n: float, pad_mm: float, overhang_mm: float) -> ContactPressure:
    """Return the pressure of a pad whose centre is ``overhang_mm`` beyond a straight edge.

    A centre inside the panel is a negative overhang.  Raises PadOffThePanel.
    """
    return pressure_on_share(force_n, pad_mm, share_on_panel(pad_mm, overhang_mm))


def share_on_panel(pad_mm: float, overhang_mm: float) -> float:
    """Return the share of the disc on the panel, a circular segment.

    With ``c = overhang/R`` the share is ``(acos c − c √(1 − c²))/π``.
    """
    beyond = overhang_mm / (pad_mm / 2.0)
    if beyond >= 1.0:
        raise PadOffThePanel(pad_mm, overhang_mm)
    if beyond <= -1.0:
        return 1.0
    return (acos(beyond) - beyond * sqrt(1.0 - beyond**2)) / pi


def pressure_on_strip(force_n: float, pad_mm: float, strip_mm: float) -> ContactPressure:
    """Return the pressure of a pad that bridges a crown on a strip ``strip_mm`` wide.

    The area is strip × diameter, good while the strip is narrow (0.3 % high
    at 20 mm on a 150 mm pad).  A strip too wide for that is the flat pad.
    """
    share = min(1.0, strip_mm * pad_mm / face_area_mm2(pad_mm))
    return pressure_on_share(force_n, pad_mm, share)


def weight_n(mass_kg: float, gravity_m_s2: float = STANDARD_GRAVITY_M_S2) -> float:
    """Return what a machine presses with by its own weight on a level panel."""
    return mass_kg * gravity_m_s2
