"""Dwell and evenness at the ends of their ranges."""

from __future__ import annotations

from math import pi

import pytest

from academy.domain.polishing.dwell import (
    RowsDoNotAdvance,
    dwell_per_pass_s,
    row_spacing_mm,
    spread_between_rows,
    working_time_s,
)


def test_an_overlap_of_one_is_refused_in_a_sentence() -> None:
    with pytest.raises(RowsDoNotAdvance, match="an overlap of 1 leaves no step between rows"):
        row_spacing_mm(150, 1.0)


def test_rows_side_by_side_leave_untouched_lines() -> None:
    spread = spread_between_rows(0.0)

    assert spread.least == pytest.approx(0, abs=1e-7)
    assert spread.unevenness == pytest.approx(4 / pi)


def test_rows_with_gaps_leave_bands_untouched() -> None:
    assert spread_between_rows(-0.5).least == 0


def test_closer_rows_tend_to_perfect_evenness() -> None:
    assert spread_between_rows(0.98).unevenness < 0.01


def test_more_overlap_is_not_always_more_even() -> None:
    # A quarter is a little more even than a half: its worst point lies better. Worth a lesson.
    assert spread_between_rows(0.25).unevenness < spread_between_rows(0.5).unevenness


def test_the_least_and_greatest_lie_on_either_side_of_the_mean() -> None:
    for percent in range(100):
        spread = spread_between_rows(percent / 100)
        assert 0 <= spread.least <= 1 <= spread.greatest


def test_twice_the_passes_take_twice_the_time_and_slower_hands_longer() -> None:
    once = working_time_s(450, 150, 25, 0.5, 1)

    assert working_time_s(450, 150, 25, 0.5, 2) == pytest.approx(2 * once)
    assert working_time_s(450, 150, 12.5, 0.5, 1) == pytest.approx(2 * once)


def test_time_on_the_section_times_the_pads_area_is_dwell_times_the_sections() -> None:
    by_time = working_time_s(450, 150, 25, 0.3, 1) * pi * 150**2 / 4

    assert by_time == pytest.approx(dwell_per_pass_s(150, 25, 0.3) * 450**2)
