"""How the speeds behave where the formulas could go wrong."""

from __future__ import annotations

from itertools import pairwise

import pytest

from academy.domain.polishing.kinematics import (
    MachineSpeed,
    dual_action_speed,
    mean_of_orbit_and_spin_m_s,
    rotary_matching_orbit_rpm,
    rotary_speed,
    spin_matching_orbit_rpm,
)


def test_a_stalled_pad_still_moves_at_the_orbits_speed() -> None:
    speed = dual_action_speed(150, 21, 4200)

    assert speed == MachineSpeed(rim_m_s=0.0, mean_m_s=speed.orbit_m_s, orbit_m_s=speed.orbit_m_s)


def test_a_spin_without_an_orbit_is_a_rotary() -> None:
    assert mean_of_orbit_and_spin_m_s(0.0, 9.0) == pytest.approx(6.0)
    assert rotary_speed(150, 1500).orbit_m_s == 0


def test_a_machine_that_stands_still_has_no_speed() -> None:
    assert mean_of_orbit_and_spin_m_s(0.0, 0.0) == 0
    assert rotary_speed(150, 0) == MachineSpeed(0, 0, 0)


def test_a_motion_too_small_to_square_is_still_a_motion() -> None:
    assert mean_of_orbit_and_spin_m_s(1e-300, 9.0) == pytest.approx(6.0)
    assert mean_of_orbit_and_spin_m_s(9.0, 1e-300) == pytest.approx(9.0)


def test_more_spin_is_never_slower_even_through_the_spin_that_matches_the_orbit() -> None:
    match = spin_matching_orbit_rpm(150, 21, 4200)
    spins = (0, 100, match * 0.999, match, match * 1.001, 900, 3000)
    means = [dual_action_speed(150, 21, 4200, spin).mean_m_s for spin in spins]

    assert all(slower < faster for slower, faster in pairwise(means))


def test_the_mean_lies_between_either_motion_alone_and_both_added() -> None:
    speed = dual_action_speed(125, 15, 4800, 400)

    assert max(speed.orbit_m_s, 2 / 3 * speed.rim_m_s) < speed.mean_m_s
    assert speed.mean_m_s < speed.orbit_m_s + speed.rim_m_s


def test_the_matching_rotary_has_the_orbits_mean_speed() -> None:
    rpm = rotary_matching_orbit_rpm(150, 21, 4200)

    assert rotary_speed(150, rpm).mean_m_s == pytest.approx(
        dual_action_speed(150, 21, 4200).orbit_m_s
    )
