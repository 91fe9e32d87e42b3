"""The drawn path is that of a point of an orbiting, spinning pad."""

from __future__ import annotations

import itertools
import math

import pytest

from academy.domain.polishing.kinematics import orbit_speed_m_s
from academy.figures import check, draw
from academy.figures.orbit_trace import OrbitTrace, mean_speed_m_s, swept_degrees
from academy.figures.tracing import SAMPLES_PER_TURN, path_mm


def test_without_spin_the_path_is_a_circle_as_wide_as_the_throw() -> None:
    places = path_mm(throw_mm=15, radius_mm=60, orbits=3, spins=0)
    assert all(math.hypot(x - 60, y) == pytest.approx(7.5) for x, y in places)
    assert max(x for x, _ in places) - min(x for x, _ in places) == pytest.approx(15)


def test_the_centre_of_a_spinning_pad_still_runs_on_the_orbit_circle() -> None:
    places = path_mm(throw_mm=21, radius_mm=0, orbits=5, spins=0.5)
    assert all(math.hypot(x, y) == pytest.approx(10.5) for x, y in places)


def test_after_whole_orbits_the_point_has_turned_with_the_spin() -> None:
    x, y = path_mm(throw_mm=15, radius_mm=60, orbits=10, spins=1 / 8)[-1]
    assert math.degrees(math.atan2(y, x - 7.5)) == pytest.approx(45)
    assert math.hypot(x - 7.5, y) == pytest.approx(60)


def test_the_length_of_the_path_agrees_with_the_mean_speed() -> None:
    # 80 orbits at 60 rpm and 4800/min are one whole turn of the pad, in one second.
    given = OrbitTrace(throw_mm=15, orbits_per_min=4800, spin_rpm=60, radius_mm=60)
    places = path_mm(15, 60, 80, 1)
    assert len(places) == 80 * SAMPLES_PER_TURN + 1
    length_m = sum(math.dist(a, b) for a, b in itertools.pairwise(places)) / 1000
    assert length_m == pytest.approx(mean_speed_m_s(given), rel=2e-3)


def test_a_rotary_draws_a_circle_around_its_spindle() -> None:
    places = path_mm(throw_mm=0, radius_mm=60, orbits=0, spins=2)
    assert len(places) == 2 * SAMPLES_PER_TURN + 1
    assert all(math.hypot(x, y) == pytest.approx(60) for x, y in places)


def test_a_stalled_pad_moves_at_the_speed_of_the_orbit() -> None:
    given = OrbitTrace(spin_rpm=0)
    assert mean_speed_m_s(given) == pytest.approx(orbit_speed_m_s(15, 4800))
    assert "3.77\N{NO-BREAK SPACE}m/s" in draw("orbit-trace", {"spin_rpm": 0}).alternative_text


def test_the_default_sweeps_an_eighth_of_a_turn() -> None:
    assert swept_degrees(OrbitTrace()) == pytest.approx(45)
    assert "pad turned by 45°" in draw("orbit-trace", {}).alternative_text


def test_spinning_against_the_orbit_is_drawn_the_other_way_round() -> None:
    with_orbit, against = draw("orbit-trace", {}), draw("orbit-trace", {"spin_rpm": -60})
    assert with_orbit.svg != against.svg
    assert "spin −60" in against.alternative_text


def test_a_point_beyond_the_rim_is_refused() -> None:
    error = check("orbit-trace", {"pad_mm": 100, "radius_mm": 60})[0]
    assert (
        str(error) == "orbit-trace: radius_mm: 60.0 is not allowed; allowed: at most half of pad_mm"
    )
