"""Where on a section how much comes off.

The pad's motion is much quicker than the arm's.  So the face is first
averaged over one orbit into a kernel: how fast paint at a distance from the
machine's axis is rubbed.  The kernel is then laid over the map of where the
axis spent its time, a convolution, done with the fast Fourier transform.

This holds while pressure, spin and orbit stay the same through a set of
passes; work that changes them is a few fields added up.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil, pi

import numpy as np
from numpy.typing import NDArray

from academy.domain.polishing.pressure import flat_pressure_kpa
from academy.domain.polishing.preston import removed_um
from academy.domain.polishing.tool_path import Grid, Stroke, dwell_map_s

Values = NDArray[np.float64]

RADII_PER_CELL = 8
ANGLES = 24


@dataclass(frozen=True, slots=True)
class WorkingFace:
    """A pad and how its machine moves it; a rotary has a throw of zero.

    A free spin in the sense of the orbit is positive, against it negative.
    """

    pad_mm: float
    throw_mm: float
    orbits_per_min: float
    spin_rpm: float

    @property
    def reach_mm(self) -> float:
        """How far from the machine's axis the face gets."""
        return (self.pad_mm + self.throw_mm) / 2.0


@dataclass(frozen=True, slots=True, eq=False)
class RemovalField:
    """Depth removed in each cell of a section, shape (cells, cells), in micrometres."""

    removed_um: Values
    cell_mm: float

    @property
    def mean_um(self) -> float:
        """The mean over the section."""
        return float(self.removed_um.mean())

    @property
    def greatest_um(self) -> float:
        """The most removed anywhere: what a limit is held against."""
        return float(self.removed_um.max())

    @property
    def least_um(self) -> float:
        """The least removed anywhere."""
        return float(self.removed_um.min())


def removal_field(
    face: WorkingFace,
    strokes: tuple[Stroke, ...],
    section_mm: float,
    cells: int,
    force_n: float,
    coefficient_m2_n: float,
) -> RemovalField:
    """Return the removal over a square section of ``cells`` × ``cells``, by ``h = k p s``.

    The flat pad's pressure is used everywhere: where the pad hangs over the
    section's edge onto more panel, nothing changes, but at a real panel edge
    the pressure rises and the field there is too low.
    """
    cell_mm = section_mm / cells
    sliding_m = sliding_field_m(face, strokes, cells, cell_mm)
    depth = removed_um(coefficient_m2_n, flat_pressure_kpa(force_n, face.pad_mm), 1.0)
    return RemovalField(depth * sliding_m, cell_mm)


def sliding_field_m(
    face: WorkingFace, strokes: tuple[Stroke, ...], cells: int, cell_mm: float
) -> Values:
    """Return how far the face slid over each cell's centre, shape (cells, cells), in metres."""
    kernel = speed_kernel_m_s(face, cell_mm)
    margin = kernel.shape[0] // 2
    grid = Grid(cells, cell_mm, margin)
    return _convolved(dwell_map_s(strokes, grid), kernel, cells)


def speed_kernel_m_s(face: WorkingFace, cell_mm: float) -> Values:
    """Return the mean sliding speed at each place around the machine's axis, in m/s.

    Shape (2m + 1, 2m + 1), the axis at the middle cell's centre; zero beyond
    the face's reach.  Averaging over an orbit leaves no direction, so one
    profile along the radius gives it all.  The profile is averaged over a
    cell's width, without which the edge of the disc would be a staircase.
    """
    half = ceil(face.reach_mm / cell_mm + 0.5)
    offsets = np.arange(-half, half + 1) * cell_mm
    distance = np.hypot(offsets[:, None], offsets[None, :])
    step = cell_mm / RADII_PER_CELL
    radii = np.arange(-RADII_PER_CELL, RADII_PER_CELL * (2 * half + 1)) * step + step / 2.0
    gathered = np.concatenate([[0.0], np.cumsum(speed_profile_m_s(face, np.abs(radii)) * step)])
    bounds = np.concatenate([radii - step / 2.0, [radii[-1] + step / 2.0]])
    outer = np.interp(distance + cell_mm / 2.0, bounds, gathered)
    inner = np.interp(distance - cell_mm / 2.0, bounds, gathered)
    return np.asarray((outer - inner) / cell_mm)


def speed_profile_m_s(face: WorkingFace, radii_mm: Values) -> Values:
    """Return the sliding speed at distances from the machine's axis, meaned over one orbit.

    Let the pad's centre run at angular speed Ω on a circle of radius e and
    the pad turn at ω.  Paint at distance r from the axis sees the face move at
    ``|(Ω − ω) e, along the orbit; ω r, across the radius|`` while it is under
    the pad, ``r² + e² − 2 r e cos φ ≤ R²``, φ being the angle to the pad's
    centre.  Gauss-Legendre over that arc, none of it where the pad is away.
    """
    orbit = 2.0 * pi * face.orbits_per_min / 60.0 * (face.throw_mm > 0.0)
    spin = 2.0 * pi * face.spin_rpm / 60.0
    carried_m_s = (orbit - spin) * face.throw_mm / 2000.0
    turned_m_s = spin * radii_mm / 1000.0
    arc = covered_arc(face, radii_mm)
    nodes, weights = np.polynomial.legendre.leggauss(ANGLES)
    angle = 0.5 * arc[:, None] * (nodes[None, :] + 1.0)
    along = carried_m_s + turned_m_s[:, None] * np.cos(angle)
    speed = np.hypot(along, turned_m_s[:, None] * np.sin(angle))
    return np.asarray(0.5 * arc / pi * (speed @ weights))


def covered_arc(face: WorkingFace, radii_mm: Values) -> Values:
    """Return half the arc of the orbit, 0 to π, in which the pad covers paint at these distances.

    Shape as given.  Divided by π it is the share of the time under the pad.
    """
    pad_radius, circle = face.pad_mm / 2.0, face.throw_mm / 2.0
    across = 2.0 * radii_mm * circle
    beyond = radii_mm**2 + circle**2 - pad_radius**2
    # Without an orbit, or on the axis, the pad is there all the time or never.
    always = np.where(beyond <= 0.0, -1.0, 1.0)
    cosine = np.divide(beyond, across, out=always, where=across > 0.0)
    return np.asarray(np.arccos(np.clip(cosine, -1.0, 1.0)))


def _convolved(dwell_s: Values, kernel_m_s: Values, cells: int) -> Values:
    """Return the part of the convolution that the margin makes free of wrap-around."""
    width, margin = dwell_s.shape[0], kernel_m_s.shape[0] // 2
    size = _quick_size(width)
    spectrum = np.fft.rfft2(dwell_s, (size, size)) * np.fft.rfft2(kernel_m_s, (size, size))
    whole = np.fft.irfft2(spectrum, (size, size))
    first = 2 * margin
    return np.maximum(whole[first : first + cells, first : first + cells], 0.0)


def _quick_size(least: int) -> int:
    """Return the next size with no prime factor above 5, which transforms quickly."""
    size = least
    while 30**20 % size:
        size += 1
    return size
