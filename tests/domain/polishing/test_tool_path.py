"""Where the machine's axis goes and how long it is there."""

from __future__ import annotations

import numpy as np
import pytest

from academy.domain.polishing.tool_path import Grid, Stroke, dwell_map_s, parallel_rows


def test_all_the_time_of_a_stroke_inside_the_grid_is_kept() -> None:
    stroke = Stroke(13, 20, 77, 64, 25)
    dwell = dwell_map_s((stroke,), Grid(50, 2))

    assert dwell.sum() == pytest.approx(stroke.seconds)


def test_the_place_of_a_stroke_is_kept_on_average() -> None:
    grid = Grid(50, 2)
    dwell = dwell_map_s((Stroke(13, 20, 77, 64, 25),), grid)
    centres = (np.arange(50) + 0.5) * 2

    assert (dwell.sum(axis=0) @ centres) / dwell.sum() == pytest.approx(45)
    assert (dwell.sum(axis=1) @ centres) / dwell.sum() == pytest.approx(42)


def test_time_outside_the_margin_reaches_no_cell() -> None:
    assert dwell_map_s((Stroke(500, 0, 600, 0, 10),), Grid(20, 5)).sum() == 0


def test_a_margin_catches_what_runs_out_of_the_section() -> None:
    stroke = Stroke(-20, 50, 120, 50, 10)

    assert dwell_map_s((stroke,), Grid(20, 5)).sum() < stroke.seconds
    assert dwell_map_s((stroke,), Grid(20, 5, margin_cells=8)).sum() == pytest.approx(
        stroke.seconds
    )


def test_rows_go_there_and_back_centred_on_the_section() -> None:
    rows = parallel_rows(100, 40, 25)

    assert [(row.from_x_mm, row.to_x_mm) for row in rows] == [(0, 100), (100, 0), (0, 100)]
    assert [row.from_y_mm for row in rows] == [10, 50, 90]
    assert all(row.from_y_mm == row.to_y_mm for row in rows)


def test_rows_that_fit_exactly_reach_both_sides() -> None:
    assert [row.from_y_mm for row in parallel_rows(90, 30, 25)] == pytest.approx([0, 30, 60, 90])


def test_a_spacing_wider_than_the_section_leaves_one_row_in_the_middle() -> None:
    assert [row.from_y_mm for row in parallel_rows(100, 300, 25)] == [50]


def test_a_turned_stroke_exchanges_across_and_along() -> None:
    assert Stroke(1, 2, 3, 4, 5).turned() == Stroke(2, 1, 4, 3, 5)


def test_no_strokes_leave_an_empty_map() -> None:
    assert dwell_map_s((), Grid(4, 1, 2)).shape == (8, 8)
