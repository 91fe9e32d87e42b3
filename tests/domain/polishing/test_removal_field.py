"""The removal field against stepping the machine through every orbit."""

from __future__ import annotations

from dataclasses import replace
from math import pi

import numpy as np
import pytest
from numpy.typing import NDArray

from academy.domain.polishing.dwell import (
    dwell_per_pass_s,
    row_spacing_mm,
    sliding_distance_m,
    spread_between_rows,
)
from academy.domain.polishing.kinematics import dual_action_speed
from academy.domain.polishing.removal_field import (
    WorkingFace,
    covered_arc,
    removal_field,
    sliding_field_m,
    speed_kernel_m_s,
)
from academy.domain.polishing.tool_path import Stroke, parallel_rows

ORBITING = WorkingFace(pad_mm=80, throw_mm=12, orbits_per_min=4200, spin_rpm=300)
LARGE = WorkingFace(pad_mm=150, throw_mm=21, orbits_per_min=4200, spin_rpm=0)
ROTARY = WorkingFace(pad_mm=80, throw_mm=0, orbits_per_min=0, spin_rpm=1500)
COLUMNS = np.array([31, 90])


def stepped_sliding_m(face: WorkingFace, strokes: tuple[Stroke, ...]) -> NDArray[np.float64]:
    """Move the pad in small steps of time over points a millimetre apart in two columns.

    Adds up the speed of the face past each point while it is under the pad,
    the arm's own speed included.  Shape (2, 160), in metres.
    """
    orbit, spin = 2 * pi * face.orbits_per_min / 60, 2 * pi * face.spin_rpm / 60
    point = (COLUMNS[:, None] + 0.5 + 1j * (np.arange(160) + 0.5)[None, :]).ravel()
    slid = np.zeros(point.size)
    for stroke in strokes:
        steps = int(stroke.seconds * 70 * 16)
        step_s = stroke.seconds / steps
        at_s = (np.arange(steps) + 0.5) * step_s
        arm = stroke.to_x_mm - stroke.from_x_mm + 1j * (stroke.to_y_mm - stroke.from_y_mm)
        out = face.throw_mm / 2 * np.exp(1j * orbit * at_s)
        pad = stroke.from_x_mm + 1j * stroke.from_y_mm + arm * at_s / stroke.seconds + out
        pad_velocity = 1j * orbit * out + arm / stroke.seconds
        from_pad = point[:, None] - pad[None, :]
        speed = np.abs(pad_velocity[None, :] + 1j * spin * from_pad)
        slid += ((np.abs(from_pad) <= face.pad_mm / 2) * speed).sum(axis=1) / 1000 * step_s
    return slid.reshape(2, 160)


@pytest.mark.parametrize(
    ("face", "greatest", "rms"),
    [
        pytest.param(ORBITING, 0.015, 0.006, id="orbit with spin"),
        pytest.param(replace(ORBITING, spin_rpm=0), 0.015, 0.006, id="orbit, stalled"),
        pytest.param(replace(ORBITING, spin_rpm=-500), 0.015, 0.006, id="spin against the orbit"),
        # A rotary is quickest at its sharp rim: a cell there holds a steep step, of which the
        # field gives the mean and the stepped point its middle.
        pytest.param(ROTARY, 0.12, 0.015, id="rotary"),
    ],
)
@pytest.mark.parametrize(
    "strokes",
    [
        pytest.param(parallel_rows(160, 42, 60, run_out_mm=40), id="rows"),
        pytest.param((Stroke(-30, 10, 150, 170, 50),), id="slanting"),
    ],
)
def test_the_field_is_what_stepping_every_orbit_gives(
    face: WorkingFace, strokes: tuple[Stroke, ...], greatest: float, rms: float
) -> None:
    stepped = stepped_sliding_m(face, strokes)
    difference = sliding_field_m(face, strokes, 160, 1.0)[:, COLUMNS].T - stepped

    assert np.abs(difference).max() < greatest * stepped.max()
    assert np.sqrt(np.mean(difference**2)) < rms * stepped.max()


@pytest.mark.parametrize("cell_mm", [1.0, 2.0, 5.0])
@pytest.mark.parametrize("spin_rpm", [0.0, 300.0, 900.0])
def test_the_kernel_holds_the_mean_speed_times_the_face(cell_mm: float, spin_rpm: float) -> None:
    # The elliptic integral, a wholly different route to the same mean.
    face = WorkingFace(150, 21, 4200, spin_rpm)
    mean_m_s = dual_action_speed(150, 21, 4200, spin_rpm).mean_m_s

    held = speed_kernel_m_s(face, cell_mm).sum() * cell_mm**2
    assert held == pytest.approx(mean_m_s * pi * 75**2, rel=0.001)


def test_a_section_worked_with_run_out_loses_the_depth_of_the_plain_formula() -> None:
    spacing = row_spacing_mm(150, 0.5)
    strokes = parallel_rows(450, spacing, 25, run_out_mm=150) * 4
    field = sliding_field_m(LARGE, strokes, 90, 5)

    speed = dual_action_speed(150, 21, 4200).mean_m_s
    plain = sliding_distance_m(speed, dwell_per_pass_s(150, 25, 0.5), 4)
    assert field.mean() == pytest.approx(plain, rel=0.01)


def test_the_orbit_evens_what_bare_parallel_rows_leave() -> None:
    strokes = parallel_rows(450, 75, 25, run_out_mm=150)
    tiny = replace(LARGE, throw_mm=0.02, orbits_per_min=4200 * 1050)
    bare, orbited = (sliding_field_m(face, strokes, 450, 1) for face in (tiny, LARGE))
    ideal = spread_between_rows(0.5)

    # The least dwell is a cusp under the rim, which a cell of a millimetre rounds off.
    assert bare.max() / bare.mean() == pytest.approx(ideal.greatest, rel=0.005)
    assert ideal.least < bare.min() / bare.mean() < ideal.least + 0.1
    assert (orbited.max() - orbited.min()) / orbited.mean() < 0.8 * ideal.unevenness


def test_rows_that_stop_at_the_edge_take_less_off_near_the_edge() -> None:
    strokes = parallel_rows(450, 75, 25, run_out_mm=-75)
    field = removal_field(LARGE, strokes, 450, 90, force_n=40, coefficient_m2_n=2.5e-12)

    assert field.least_um < 0.3 * field.mean_um
    assert field.greatest_um > field.mean_um


def test_removal_follows_force_and_passes_in_proportion() -> None:
    strokes = parallel_rows(200, 50, 40)

    def mean_um(force_n: float, times: int) -> float:
        return removal_field(LARGE, strokes * times, 200, 40, force_n, 2.5e-12).mean_um

    assert mean_um(80, 3) == pytest.approx(6 * mean_um(40, 1))


def test_no_strokes_take_nothing_off() -> None:
    assert removal_field(LARGE, (), 200, 40, 40, 2.5e-12).greatest_um == 0


def test_a_rotary_leaves_its_centre_slow() -> None:
    kernel = speed_kernel_m_s(ROTARY, 1)
    middle = kernel.shape[0] // 2

    assert kernel[middle, middle] < 0.05 * kernel.max()


def test_paint_on_the_axis_is_always_covered_and_paint_out_of_reach_never() -> None:
    arc = covered_arc(LARGE, np.array([0.0, 60.0, LARGE.reach_mm + 0.01, 500.0]))

    assert arc == pytest.approx([pi, pi, 0, 0])
