"""Ratings against what those at the pass mark really have right, question by question."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from academy.figures.axes import horizontal_axis, vertical_axis
from academy.figures.figure import Figure, FigureTable
from academy.figures.geometry import Scale
from academy.figures.numerals import written
from academy.figures.svg import Canvas, Point

WIDTH = 320.0
LEFT, RIGHT, TOP, BOTTOM = 44.0, 306.0, 34.0, 254.0
NEAR = 15.0


@dataclass(frozen=True, slots=True)
class RatedPoint:
    """One question: its name, its rating and what is expected near the pass mark, in percent."""

    name: str
    rating: float
    found: float
    answers: int

    @property
    def off(self) -> bool:
        """Return whether rating and answers are far apart."""
        return abs(self.rating - self.found) > NEAR


@dataclass(frozen=True, slots=True)
class RatingScatterWords:
    """The words of the figure in the reader's language."""

    caption: str
    alternative: str
    across: str
    up: str
    columns: tuple[str, str, str, str]


def draw_rating_scatter(points: Sequence[RatedPoint], words: RatingScatterWords) -> Figure:
    """Draw each question; on the middle line rating and answers agree, the band is 15 wide each way.

    Questions outside the band are drawn full, those inside open.
    """
    canvas = Canvas(WIDTH, BOTTOM + 44)
    across, up = Scale(0, 100, LEFT, RIGHT), Scale(0, 100, BOTTOM, TOP)
    vertical_axis(canvas, up, LEFT, "%", across=RIGHT - LEFT, most=6)
    horizontal_axis(canvas, across, BOTTOM, "%", most=6)
    canvas.text(Point(LEFT + 6, 14), words.up)
    canvas.text(Point((LEFT + RIGHT) / 2, BOTTOM + 36), words.across, "middle")
    canvas.line(Point(LEFT, BOTTOM), Point(RIGHT, TOP), "figure-accent", stroke_width=1.5)
    for side in (NEAR, -NEAR):
        low, high = max(0.0, -side), min(100.0, 100 - side)
        ends = (Point(across(low), up(low + side)), Point(across(high), up(high + side)))
        canvas.polyline(ends, "figure-accent", stroke_dasharray="4 3")
    for point in sorted(points, key=lambda one: one.off):
        place = Point(across(point.rating), up(point.found))
        canvas.circle(place, 4, "figure-fill-6" if point.off else "figure-fill-1")
        canvas.circle(place, 4)
    return Figure(canvas.finished(), words.alternative, _table(points, words), words.caption)


def _table(points: Sequence[RatedPoint], words: RatingScatterWords) -> FigureTable:
    ordered = sorted(points, key=lambda one: -abs(one.rating - one.found))
    rows = tuple(
        (one.name, written(one.rating, 0), written(one.found, 0), str(one.answers))
        for one in ordered
    )
    return FigureTable(words.columns, rows)
