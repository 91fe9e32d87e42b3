"""Speeds of the working face against worked values and against sampling the motion."""

from __future__ import annotations

from math import pi

import numpy as np
import pytest
from numpy.typing import NDArray

from academy.domain.polishing.kinematics import (
    dual_action_speed,
    orbit_speed_m_s,
    rim_speed_m_s,
    rotary_matching_orbit_rpm,
    rotary_speed,
    spin_matching_orbit_rpm,
)
from tests.support.reference_case import Case, each

RIM = [
    Case(
        f"rim {pad_mm} mm at {rpm} rpm",
        lambda pad_mm=pad_mm, rpm=rpm: rim_speed_m_s(pad_mm, rpm),  # type: ignore[misc]
        expected,
        source="v = ω r",
        known="computed by two routes",
    )
    for pad_mm, rpm, expected in [
        (150, 600, 4.71238898038469),
        (150, 1000, 7.853981633974483),
        (180, 1200, 11.309733552923255),
        (75, 2000, 7.853981633974483),
        (150, 1500, 11.780972450961723),
    ]
]

ROTARY_MEAN = [
    Case(
        f"rotary mean 150 mm at {rpm} rpm",
        lambda rpm=rpm: rotary_speed(150, rpm).mean_m_s,  # type: ignore[misc]
        expected,
        source="area integral of ω r over the disc",
        known="computed by two routes",
    )
    for rpm, expected in [(1000, 5.235987755982988), (1500, 7.853981633974482)]
]

ORBIT = [
    Case(
        f"orbit {throw_mm} mm at {orbits} a minute",
        lambda throw_mm=throw_mm, orbits=orbits: orbit_speed_m_s(throw_mm, orbits),  # type: ignore[misc]
        expected,
        source="path length of the orbit's circle",
        known="computed by two routes",
    )
    for throw_mm, orbits, expected in [
        (21, 4200, 4.6181412007769955),
        (21, 3000, 3.2986722862692828),
        (15, 4800, 3.7699111843077517),
        (15, 1700, 1.335176877775662),
        (12, 5500, 3.4557519189487724),
        (8, 6000, 2.5132741228718345),
        (8, 9600, 4.021238596594935),
        (5, 7000, 1.8325957145940461),
    ]
]

ORBIT_AND_SPIN = [
    Case(
        f"mean of {throw_mm} mm, {orbits} a minute, {pad_mm} mm pad spinning at {spin}",
        lambda throw_mm=throw_mm, orbits=orbits, pad_mm=pad_mm, spin=spin: (  # type: ignore[misc]
            dual_action_speed(pad_mm, throw_mm, orbits, spin).mean_m_s
        ),
        expected,
        source="complete elliptic integral over the radius, against sampled trajectories",
        known="computed by two routes",
    )
    for throw_mm, orbits, pad_mm, spin, expected in [
        (21, 4200, 150, 0, 4.6181412007769955),
        (21, 4200, 150, 300, 4.770125341965411),
        (15, 4800, 125, 60, 3.7750267700918148),
    ]
]

MATCHES = [
    Case(
        "spin whose rim is as fast as a 21 mm orbit at 4200",
        lambda: spin_matching_orbit_rpm(150, 21, 4200),
        588.0,
        source="n = D N/d",
        known="computed",
    ),
    Case(
        "rotary as fast in the mean as a 21 mm orbit at 4200",
        lambda: rotary_matching_orbit_rpm(150, 21, 4200),
        882.0,
        source="n = 1.5 D N/d",
        known="computed",
    ),
    Case(
        "a dial at 4200 that falls to 3000 under load",
        lambda: orbit_speed_m_s(21, 3000) / orbit_speed_m_s(21, 4200),
        0.7142857142857143,
        source="speed is proportional to the orbits",
        known="computed",
    ),
]


@each(RIM + ROTARY_MEAN + ORBIT + ORBIT_AND_SPIN + MATCHES)
def test_speeds_are_the_worked_ones(case: Case) -> None:
    case.check()


@pytest.mark.parametrize("spin_rpm", [60.0, 300.0, 588.0, 900.0, 2500.0])
def test_the_elliptic_mean_is_what_sampling_the_motion_gives(spin_rpm: float) -> None:
    # Velocity of random points of the face at random times, differenced from
    # their positions: neither the cosine rule nor an integral is used.
    rng = np.random.default_rng(20261125)
    count, step_s = 400_000, 1e-7
    radius = 0.075 * np.sqrt(rng.random(count))
    bearing, time_s = 2 * pi * rng.random(count), 10 * rng.random(count)

    def place(at_s: NDArray[np.float64]) -> NDArray[np.complex128]:
        orbit, spin = 2 * pi * 70 * at_s, bearing + 2 * pi * spin_rpm / 60 * at_s
        return np.asarray(0.0105 * np.exp(1j * orbit) + radius * np.exp(1j * spin))

    sampled = np.mean(np.abs(place(time_s + step_s) - place(time_s - step_s)) / (2 * step_s))

    computed = dual_action_speed(150, 21, 4200, spin_rpm).mean_m_s
    assert computed == pytest.approx(sampled, rel=0.002)


@pytest.mark.parametrize("spin_rpm", [60.0, 300.0, 587.999, 588.0, 650.0, 2500.0])
def test_the_quadrature_agrees_with_a_fine_sum_over_radius_and_angle(spin_rpm: float) -> None:
    orbit, rim = orbit_speed_m_s(21, 4200), rim_speed_m_s(150, spin_rpm)
    share = (np.arange(2000) + 0.5) / 2000
    angle = (np.arange(4000) + 0.5) / 4000 * pi
    speed = np.sqrt(
        orbit**2 + (rim * share[:, None]) ** 2 + 2 * orbit * rim * share[:, None] * np.cos(angle)
    )
    summed = 2 * np.mean(speed.mean(axis=1) * share)

    assert dual_action_speed(150, 21, 4200, spin_rpm).mean_m_s == pytest.approx(summed, rel=1e-6)


def test_a_usual_spin_adds_between_a_tenth_and_eleven_percent() -> None:
    # The range that lessons give; computed by two routes.
    still = dual_action_speed(150, 21, 4200).mean_m_s
    gains = [dual_action_speed(150, 21, 4200, spin).mean_m_s / still - 1 for spin in (50, 540)]

    assert 0.0005 < gains[0] < 0.002
    assert 0.10 < gains[1] < 0.12
