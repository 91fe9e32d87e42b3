"""How fast the working face moves over the paint.

A rotary turns about its own axis: the rim is fast, the centre stands still.
A dual action carries its pad round a small circle (the orbit) and lets it
spin besides; every point of the face then moves at nearly the orbit's speed.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import pi

import numpy as np
from numpy.typing import NDArray

MM_PER_M = 1000.0
S_PER_MIN = 60.0

# Nodes of the quadrature over the pad's radius.  32 a piece leave an error
# below 1e-9 of the speed; the reference tests hold it against sampling.
NODES = 32


@dataclass(frozen=True, slots=True)
class MachineSpeed:
    """Speeds of the working face, in metres a second.

    ``rim_m_s`` is that of the turning alone, ``orbit_m_s`` that of the orbit
    alone, ``mean_m_s`` the mean over the face and over time of both together.
    """

    rim_m_s: float
    mean_m_s: float
    orbit_m_s: float


def rim_speed_m_s(pad_mm: float, rpm: float) -> float:
    """Return the speed of the rim of a turning pad, ``v = π d n``."""
    return pi * pad_mm / MM_PER_M * rpm / S_PER_MIN


def orbit_speed_m_s(throw_mm: float, orbits_per_min: float) -> float:
    """Return the speed along the orbit, ``v = π D N``.

    ``throw_mm`` is the diameter of the orbit's circle, the figure machines
    are sold by; half of it is the distance between the two axes.
    """
    return pi * throw_mm / MM_PER_M * orbits_per_min / S_PER_MIN


def rotary_speed(pad_mm: float, rpm: float) -> MachineSpeed:
    """Return the speeds of a rotary: the mean over the disc is 2/3 of the rim.

    The mean of ``ω r`` over a disc is ``(2/R²) ∫ ω r² dr = 2/3 ω R``.
    """
    rim_m_s = rim_speed_m_s(pad_mm, rpm)
    return MachineSpeed(rim_m_s, 2.0 / 3.0 * rim_m_s, 0.0)


def dual_action_speed(
    pad_mm: float, throw_mm: float, orbits_per_min: float, spin_rpm: float = 0.0
) -> MachineSpeed:
    """Return the speeds of a dual action whose pad spins at ``spin_rpm``.

    A spin of zero is the stalled pad: it still moves at the full orbit speed,
    but works the same small paths again and again.
    """
    orbit_m_s = orbit_speed_m_s(throw_mm, orbits_per_min)
    rim_m_s = rim_speed_m_s(pad_mm, spin_rpm)
    return MachineSpeed(rim_m_s, mean_of_orbit_and_spin_m_s(orbit_m_s, rim_m_s), orbit_m_s)


def mean_of_orbit_and_spin_m_s(orbit_m_s: float, rim_m_s: float) -> float:
    """Return the mean speed of an orbiting, spinning face, in m/s.

    ``v̄ = (2/R²) ∫ r v̄(r) dr``, by Gauss-Legendre quadrature over the radius.
    The integrand has a weak logarithmic corner where the spin is as fast as
    the orbit, so the radius is cut there and both pieces keep full accuracy.
    """
    if rim_m_s == 0.0:
        return orbit_m_s
    equal_speed = min(orbit_m_s / rim_m_s, 1.0)
    nodes, weights = np.polynomial.legendre.leggauss(NODES)
    total = 0.0
    for inner, outer in ((0.0, equal_speed), (equal_speed, 1.0)):
        half = (outer - inner) / 2.0
        share = inner + half * (nodes + 1.0)
        speeds = mean_at_radius_m_s(orbit_m_s, rim_m_s * share)
        total += half * float(np.sum(weights * share * speeds))
    return 2.0 * total


def mean_at_radius_m_s(orbit_m_s: float, spin_m_s: NDArray[np.float64]) -> NDArray[np.float64]:
    """Return the mean speed where the spin alone would give ``spin_m_s`` (any shape).

    Averaging ``√(V_o² + V_s² + 2 V_o V_s cos φ)`` over the angle φ between the
    two gives ``(2/π)(V_o + V_s) E(m)`` with ``m = 4 V_o V_s/(V_o + V_s)²`` and
    E the complete elliptic integral of the second kind in the parameter m
    (Abramowitz & Stegun 1964, 17.3.3; the modulus k is √m).
    """
    from scipy.special import ellipe

    both = orbit_m_s + spin_m_s
    # The share of the spin in both, so that very small speeds are not squared.
    spin_share = np.divide(spin_m_s, both, out=np.zeros_like(both), where=both > 0.0)
    parameter = 4.0 * spin_share * (1.0 - spin_share)
    return np.asarray(2.0 / pi * both * ellipe(np.minimum(parameter, 1.0)))


def spin_matching_orbit_rpm(pad_mm: float, throw_mm: float, orbits_per_min: float) -> float:
    """Return the spin at which the rim moves as fast as the orbit, ``n = D N/d``."""
    return throw_mm * orbits_per_min / pad_mm


def rotary_matching_orbit_rpm(pad_mm: float, throw_mm: float, orbits_per_min: float) -> float:
    """Return the rotary speed with the mean speed of a spinless orbit, ``n = 1.5 D N/d``."""
    return 1.5 * throw_mm * orbits_per_min / pad_mm
