"""Pressure at edges and crowns, and where there is none."""

from __future__ import annotations

from itertools import pairwise

import pytest

from academy.domain.polishing.pressure import (
    PadOffThePanel,
    flat_pressure_kpa,
    pressure_at_edge,
    pressure_flat,
    pressure_on_strip,
    share_on_panel,
)


@pytest.mark.parametrize("overhang_mm", [75.0, 75.001, 500.0])
def test_a_pad_off_the_panel_is_refused_in_a_sentence(overhang_mm: float) -> None:
    with pytest.raises(PadOffThePanel, match="does not touch the panel"):
        pressure_at_edge(40, 150, overhang_mm)


def test_a_pad_well_inside_is_a_flat_pad() -> None:
    assert pressure_at_edge(40, 150, -75) == pressure_flat(40, 150)
    assert pressure_at_edge(40, 150, -400) == pressure_flat(40, 150)


def test_hanging_out_further_grows_ever_faster() -> None:
    factors = [pressure_at_edge(40, 150, out).factor for out in (-60, -30, 0, 30, 60)]
    steps = [second - first for first, second in pairwise(factors)]

    assert all(smaller < larger for smaller, larger in pairwise(steps))


def test_what_hangs_out_on_one_side_is_what_stays_on_the_other() -> None:
    assert share_on_panel(150, 20) + share_on_panel(150, -20) == pytest.approx(1)


def test_a_strip_as_wide_as_the_pad_is_never_less_pressure_than_flat() -> None:
    assert pressure_on_strip(40, 150, 150) == pressure_flat(40, 150)
    assert pressure_on_strip(40, 150, 118).factor == 1
    assert pressure_on_strip(40, 150, 117).factor > 1


def test_half_the_diameter_is_four_times_the_pressure() -> None:
    assert flat_pressure_kpa(40, 75) == pytest.approx(4 * flat_pressure_kpa(40, 150))
