"""Dwell, working time and evenness against worked values and a simulated raster."""

from __future__ import annotations

import numpy as np
import pytest
from numpy.typing import NDArray

from academy.domain.polishing.dwell import (
    dwell_per_pass_s,
    sliding_distance_m,
    spread_between_rows,
    working_time_s,
)
from academy.domain.polishing.kinematics import orbit_speed_m_s
from tests.support.reference_case import Case, each


def sliding_m(arm_speed_mm_s: float) -> float:
    """Return the sliding distance of the worked example at an arm speed."""
    return sliding_distance_m(
        orbit_speed_m_s(21, 4200), dwell_per_pass_s(150, arm_speed_mm_s, 0.5), 4
    )


DWELL = [
    Case(
        f"dwell of a {pad_mm} mm pad at {speed} mm/s, half overlap",
        lambda pad_mm=pad_mm, speed=speed: dwell_per_pass_s(pad_mm, speed, 0.5),  # type: ignore[misc]
        expected,
        source="mean chord over row spacing, against a raster of chords",
        known="computed by two routes",
    )
    for pad_mm, speed, expected in [
        (150, 25, 9.42477796076938),
        (150, 40, 5.890486225480862),
        (150, 100, 2.356194490192345),
        (75, 25, 4.71238898038469),
    ]
]

TIME = [
    Case(
        f"four passes on {section_mm / 10:g} cm at {speed} mm/s",
        lambda section_mm=section_mm, speed=speed: working_time_s(section_mm, 150, speed, 0.5, 4),  # type: ignore[misc]
        expected,
        source="rows × length over arm speed",
        known="computed by two routes",
    )
    for section_mm, speed, expected in [(450, 25, 432.0), (500, 50, 266.6666666666667)]
]

SLIDING = [
    Case(
        f"sliding distance of four passes at {speed} mm/s",
        lambda speed=speed: sliding_m(speed),  # type: ignore[misc]
        expected,
        source="speed × dwell, against speed × total time × pad area over section area",
        known="computed by two routes",
    )
    for speed, expected in [(25, 174.09982163521627), (50, 87.04991081760814)]
]

# Printed to three or four digits, so held to half of the last; the least and greatest at a
# quarter overlap came from a coarse raster, whose mean is a thousandth off.
EVENNESS = [
    Case(
        f"{word} at {overlap:.0%} overlap",
        lambda overlap=overlap, part=part: getattr(spread_between_rows(overlap), part),  # type: ignore[misc]
        expected,
        source="sum of chords over rows",
        known="computed by two routes",
        relative=0.0,
        absolute=digits,
    )
    for word, part, overlap, expected, digits in [
        ("unevenness", "unevenness", 0.5, 0.466, 5e-4),
        ("least over mean", "least", 0.5, 0.637, 5e-4),
        ("greatest over mean", "greatest", 0.5, 1.103, 5e-4),
        ("unevenness", "unevenness", 0.75, 0.1679, 5e-5),
        ("least over mean", "least", 0.75, 0.870, 5e-4),
        ("greatest over mean", "greatest", 0.75, 1.037, 1e-3),
        ("unevenness", "unevenness", 0.25, 0.4363, 5e-5),
        ("least over mean", "least", 0.25, 0.828, 2e-3),
        ("greatest over mean", "greatest", 0.25, 1.265, 2e-3),
    ]
]


@each(DWELL + TIME + SLIDING + EVENNESS)
def test_dwell_is_the_worked_one(case: Case) -> None:
    case.check()


def dwell_by_stepping_s(pad_mm: float, speed_mm_s: float, overlap: float) -> NDArray[np.float64]:
    """Step a disc along each row and count the time over points across one row spacing."""
    spacing = pad_mm * (1 - overlap)
    across = np.arange(400) / 400 * spacing
    step_s = pad_mm / speed_mm_s / 4000
    along = (np.arange(-2100, 2100) + 0.5) * step_s * speed_mm_s
    total = np.zeros_like(across)
    reach = int(pad_mm / spacing) + 1
    for row in range(-reach, reach + 2):
        under = along[None, :] ** 2 + (across[:, None] - row * spacing) ** 2 <= (pad_mm / 2) ** 2
        total += under.sum(axis=1) * step_s
    return total


@pytest.mark.parametrize("overlap", [0.0, 0.25, 1 / 3, 0.4, 0.5, 0.62, 0.75])
def test_stepping_a_disc_gives_the_same_dwell_and_evenness(overlap: float) -> None:
    stepped = dwell_by_stepping_s(150, 25, overlap)

    assert stepped.mean() == pytest.approx(dwell_per_pass_s(150, 25, overlap), rel=0.002)
    spread = (stepped.max() - stepped.min()) / stepped.mean()
    # The chord falls steeply at the disc's rim, so points may miss the very least value.
    assert spread_between_rows(overlap).unevenness == pytest.approx(spread, rel=0.03)


def test_a_second_set_shifted_half_a_row_evens_like_three_quarters_overlap() -> None:
    # Facts of the trade's geometry: 0.47 falls to 0.17; computed by two routes.
    assert spread_between_rows(0.5, shifted_sets=2).unevenness == pytest.approx(0.1679, abs=5e-5)


def test_a_second_set_at_right_angles_leaves_the_spread_and_calms_the_rms_by_root_two() -> None:
    rows = dwell_by_stepping_s(150, 25, 0.5)
    crossed = (rows[:, None] + rows[None, :]) / 2

    spread = (crossed.max() - crossed.min()) / crossed.mean()
    assert spread == pytest.approx(spread_between_rows(0.5).unevenness, rel=0.02)
    assert crossed.std() == pytest.approx(rows.std() / np.sqrt(2), rel=1e-9)
