"""The way the machine's axis goes over a section, and the time it spends in each place."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Values = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Stroke:
    """A straight move of the machine's axis at an even speed; lengths in mm from the section's corner."""

    from_x_mm: float
    from_y_mm: float
    to_x_mm: float
    to_y_mm: float
    arm_speed_mm_s: float

    @property
    def length_mm(self) -> float:
        """How far the axis moves."""
        return float(np.hypot(self.to_x_mm - self.from_x_mm, self.to_y_mm - self.from_y_mm))

    @property
    def seconds(self) -> float:
        """How long the move takes."""
        return self.length_mm / self.arm_speed_mm_s

    def turned(self) -> Stroke:
        """Return the same stroke of a set worked at right angles (x and y exchanged)."""
        return Stroke(
            self.from_y_mm, self.from_x_mm, self.to_y_mm, self.to_x_mm, self.arm_speed_mm_s
        )


@dataclass(frozen=True, slots=True)
class Grid:
    """Square cells over a square section, with a margin that the axis may run out into.

    A cell's value stands at its centre; cell (row, column) lies at
    y = (row + ½) cell, x = (column + ½) cell from the section's corner.
    """

    cells: int
    cell_mm: float
    margin_cells: int = 0

    @property
    def width(self) -> int:
        """Cells along one side, with both margins."""
        return self.cells + 2 * self.margin_cells

    def position(self, mm: Values) -> Values:
        """Return where a length lies, in cell centres counted from the margin's corner."""
        return mm / self.cell_mm - 0.5 + self.margin_cells


def parallel_rows(
    section_mm: float, spacing_mm: float, arm_speed_mm_s: float, run_out_mm: float = 0.0
) -> tuple[Stroke, ...]:
    """Return rows across a square section, there and back, ``spacing_mm`` apart.

    The rows are centred on the section; the axis goes ``run_out_mm`` past the
    section on every side (negative stops it short).  Moving over to the next
    row takes no time, as in the formulas for dwell.
    """
    first, last = -run_out_mm, section_mm + run_out_mm
    gaps = max(0, int((last - first) / spacing_mm + 1e-9))
    start = (section_mm - gaps * spacing_mm) / 2.0
    ends = ((first, last), (last, first))
    return tuple(
        Stroke(
            ends[row % 2][0],
            start + row * spacing_mm,
            ends[row % 2][1],
            start + row * spacing_mm,
            arm_speed_mm_s,
        )
        for row in range(gaps + 1)
    )


def dwell_map_s(strokes: tuple[Stroke, ...], grid: Grid) -> Values:
    """Return the seconds the axis spends in each cell, shape (width, width).

    Each stroke is cut into steps of at most half a cell and each step's time
    is shared by the four nearest cell centres, so that its place is kept
    exactly on average.  Time spent outside the margin reaches no cell.
    """
    shared = [_shares(stroke, grid) for stroke in strokes]
    if not shared:
        return np.zeros((grid.width, grid.width))
    cells = np.concatenate([share.cells for share in shared])
    seconds = np.concatenate([share.seconds for share in shared])
    total = np.bincount(cells, weights=seconds, minlength=grid.width**2).astype(np.float64)
    return total.reshape(grid.width, grid.width)


@dataclass(frozen=True, slots=True, eq=False)
class _Shares:
    """Cells by number (row × width + column) and the seconds each gets."""

    cells: NDArray[np.intp]
    seconds: Values


def _shares(stroke: Stroke, grid: Grid) -> _Shares:
    """Return what one stroke leaves in each cell, a cell once for each step near it."""
    steps = max(1, int(np.ceil(2.0 * stroke.length_mm / grid.cell_mm)))
    along = (np.arange(steps) + 0.5) / steps
    column = grid.position(stroke.from_x_mm + along * (stroke.to_x_mm - stroke.from_x_mm))
    row = grid.position(stroke.from_y_mm + along * (stroke.to_y_mm - stroke.from_y_mm))
    left, top = np.floor(column).astype(np.intp), np.floor(row).astype(np.intp)
    right_share, low_share = column - left, row - top
    rows = np.concatenate([top, top, top + 1, top + 1])
    columns = np.concatenate([left, left + 1, left, left + 1])
    shares = np.concatenate(
        [
            (1.0 - low_share) * (1.0 - right_share),
            (1.0 - low_share) * right_share,
            low_share * (1.0 - right_share),
            low_share * right_share,
        ]
    )
    inside = (rows >= 0) & (rows < grid.width) & (columns >= 0) & (columns < grid.width)
    seconds = shares[inside] * (stroke.seconds / steps)
    return _Shares(rows[inside] * grid.width + columns[inside], seconds)
