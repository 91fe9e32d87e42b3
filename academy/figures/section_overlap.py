"""The rows over a section, their overlap, and how evenly the pad dwells between them."""

from __future__ import annotations

import itertools
import math
from typing import Literal, Self

from pydantic import model_validator

from academy.domain.polishing.dwell import (
    dwell_per_pass_s,
    row_spacing_mm,
    spread_between_rows,
    working_time_s,
)
from academy.figures.figure import Figure, FigureKind, FigureTable
from academy.figures.geometry import arrow, dimension
from academy.figures.numerals import measured, significant, written
from academy.figures.parameters import Parameters, choice, clash, number, whole
from academy.figures.svg import Canvas, Point
from academy.figures.wording import notes, notes_height

WIDTH = 320.0
LEFT, TOP, SIDE = 8.0, 26.0, 192.0
STRIP, STRIP_WIDTH = 216.0, 62.0
BARS, BARS_PER_ROW = 64, 6
MOST_ROWS = 40
FULL_SHARE = 1.3


class SectionOverlap(Parameters):
    """A square section worked in straight rows with an ideal disc."""

    section_mm: float = number(450, 150, 1000, "mm", "side of the square section")
    pad_mm: float = number(150, 25, 200, "mm", "diameter of the pad")
    overlap_percent: float = number(50, 0, 90, "%", "share of the pad's width that rows share")
    passes: int = whole(2, 1, 8, "full coverages of the section")
    pattern: Literal["parallel", "shifted", "crossed"] = choice(
        "crossed",
        ("parallel", "shifted", "crossed"),
        "every second pass: over the same rows, half a row over, or at right angles",
    )
    arm_speed_mm_s: float = number(25, 5, 200, "mm/s", "speed of the hand along a row")

    @model_validator(mode="after")
    def _can_be_drawn(self) -> Self:
        if self.pad_mm > self.section_mm / 2:
            raise clash("pad_mm", self.pad_mm, "at most half of section_mm")
        if len(row_centres_mm(self)) > MOST_ROWS:
            raise clash("overlap_percent", self.overlap_percent, f"at most {MOST_ROWS} rows")
        if self.pattern != "parallel" and self.passes % 2:
            raise clash("passes", self.passes, f"an even number for a {self.pattern} pattern")
        return self

    @property
    def overlap(self) -> float:
        """The overlap as a share, as the formulas take it."""
        return self.overlap_percent / 100


def step_mm(given: SectionOverlap) -> float:
    """Return the distance from row to row."""
    return row_spacing_mm(given.pad_mm, given.overlap)


def row_centres_mm(given: SectionOverlap) -> tuple[float, ...]:
    """Return the rows that keep the whole pad inside the section, centred in it."""
    from academy.domain.polishing.tool_path import parallel_rows

    rows = parallel_rows(given.section_mm, step_mm(given), given.arm_speed_mm_s, -given.pad_mm / 2)
    return tuple(row.from_y_mm for row in rows)


def shifted_centres_mm(given: SectionOverlap) -> tuple[float, ...]:
    """Return the rows half way between the first set's."""
    rows = row_centres_mm(given)
    return tuple((above + below) / 2 for above, below in itertools.pairwise(rows))


def dwell_share(given: SectionOverlap, at_mm: float) -> float:
    """Return the dwell at a height of the section against the mean between endless rows.

    The chords that the drawn rows' discs cut at that height; a crossed set is
    read along the diagonal, where both sets' best and worst places meet.
    """
    sets = [row_centres_mm(given)]
    if given.pattern == "shifted":
        sets.append(shifted_centres_mm(given))
    radius = given.pad_mm / 2
    beside = [(at_mm - row) / radius for rows in sets for row in rows]
    chords = sum(2 * radius * math.sqrt(1 - place**2) for place in beside if abs(place) < 1)
    return chords / len(sets) * step_mm(given) / (math.pi * radius**2)


def least_and_greatest(given: SectionOverlap) -> tuple[float, float]:
    """Return the least and the greatest dwell between rows, as shares of the mean."""
    spread = spread_between_rows(given.overlap, 2 if given.pattern == "shifted" else 1)
    return spread.least, spread.greatest


def draw_section_overlap(given: SectionOverlap) -> Figure:
    """Draw the section with its rows, and the dwell across them beside it."""
    words = _words(given)
    canvas = Canvas(WIDTH, TOP + SIDE + 32 + notes_height(words, WIDTH) + 6)
    units_per_mm = SIDE / given.section_mm
    _draw_section(canvas, given, units_per_mm)
    _draw_strip(canvas, given, units_per_mm)
    notes(canvas, Point(2, TOP + SIDE + 32), words, WIDTH)
    return Figure(canvas.finished(), _alternative(given), _table(given), given.caption)


def _draw_section(canvas: Canvas, given: SectionOverlap, units_per_mm: float) -> None:
    canvas.rectangle(Point(LEFT, TOP), SIDE, SIDE, "figure-ink", stroke_width=1.5)
    rows = row_centres_mm(given)
    inner = given.pad_mm / 2
    ends = (LEFT + inner * units_per_mm, LEFT + SIDE - inner * units_per_mm)
    if given.pattern == "crossed":
        _draw_upright_rows(canvas, rows, ends, units_per_mm)
    if given.pattern == "shifted":
        _draw_rows(canvas, shifted_centres_mm(given), ends, units_per_mm, dashed=True)
    _draw_rows(canvas, rows, ends, units_per_mm)
    start = Point(ends[0], TOP + rows[0] * units_per_mm)
    canvas.circle(start, inner * units_per_mm, "figure-ink")
    dimension(canvas, Point(LEFT, TOP + SIDE + 10), Point(LEFT + SIDE, TOP + SIDE + 10))
    canvas.text(Point(LEFT + SIDE / 2, TOP + SIDE + 25), measured(given.section_mm, "mm"), "middle")
    canvas.text(Point(LEFT, TOP - 10), f"pad {measured(given.pad_mm, 'mm')}")


def _draw_rows(
    canvas: Canvas,
    rows: tuple[float, ...],
    ends: tuple[float, float],
    units_per_mm: float,
    dashed: bool = False,
) -> None:
    points: list[Point] = []
    for turn, row in enumerate(rows):
        y = TOP + row * units_per_mm
        there = (Point(ends[0], y), Point(ends[1], y))
        points.extend(there if turn % 2 == 0 else reversed(there))
    looks = {"stroke_dasharray": "5 3"} if dashed else {}
    canvas.polyline(points, "figure-rule" if dashed else "figure-accent", **looks)
    if not dashed:
        arrow(canvas, points[-2], points[-1])


def _draw_upright_rows(
    canvas: Canvas, rows: tuple[float, ...], ends: tuple[float, float], units_per_mm: float
) -> None:
    """Draw the second set, at right angles, dashed."""
    low, high = ends[0] - LEFT + TOP, ends[1] - LEFT + TOP
    points: list[Point] = []
    for turn, row in enumerate(rows):
        x = LEFT + row * units_per_mm
        there = (Point(x, low), Point(x, high))
        points.extend(there if turn % 2 == 0 else reversed(there))
    canvas.polyline(points, "figure-rule", stroke_dasharray="5 3")


def _draw_strip(canvas: Canvas, given: SectionOverlap, units_per_mm: float) -> None:
    bars = max(BARS, BARS_PER_ROW * len(row_centres_mm(given)))
    bar_mm, height = given.section_mm / bars, SIDE / bars
    for bar in range(bars):
        share = dwell_share(given, (bar + 0.5) * bar_mm)
        strength = min(6, 1 + int(share / FULL_SHARE * 6))
        width = share / FULL_SHARE * STRIP_WIDTH
        corner = Point(STRIP, TOP + bar * height)
        canvas.rectangle(corner, width, height, f"figure-fill-{strength}")
    mean = STRIP + STRIP_WIDTH / FULL_SHARE
    canvas.line(Point(STRIP, TOP), Point(STRIP, TOP + SIDE))
    canvas.line(Point(mean, TOP - 4), Point(mean, TOP + SIDE), stroke_dasharray="2 3")
    canvas.text(Point(mean, TOP - 10), "mean dwell", "middle")
    canvas.text(Point(STRIP, TOP + SIDE + 14), "0", "middle")
    canvas.text(Point(mean, TOP + SIDE + 14), "100 %", "middle")
    _draw_extremes(canvas, given, units_per_mm)


def _draw_extremes(canvas: Canvas, given: SectionOverlap, units_per_mm: float) -> None:
    """Print the least and the greatest dwell beside a place where it is reached."""
    for wanted, near in zip(least_and_greatest(given), (0.38, 0.62), strict=True):
        reached = [at for at in _places(given) if abs(dwell_share(given, at) - wanted) < 0.004]
        if reached:
            at_mm = min(reached, key=lambda at: abs(at - near * given.section_mm))
            y = TOP + at_mm * units_per_mm
            x = STRIP + wanted / FULL_SHARE * STRIP_WIDTH
            canvas.line(Point(x + 2, y), Point(WIDTH - 40, y), "figure-rule")
            canvas.text(Point(WIDTH - 2, y + 4), f"{written(100 * wanted, 0)} %", "end")


def _places(given: SectionOverlap) -> list[float]:
    """Return where to look for an extreme: all over, and under the pad's edges."""
    radius = given.pad_mm / 2
    edges = [row + side for row in row_centres_mm(given) for side in (-radius, radius)]
    inside = (0.15 * given.section_mm, 0.85 * given.section_mm)
    evenly = [given.section_mm * step / 1000 for step in range(150, 851)]
    return evenly + [at for at in edges if inside[0] <= at <= inside[1]]


def _numbers(given: SectionOverlap) -> tuple[tuple[str, str], ...]:
    least, greatest = least_and_greatest(given)
    dwell_s = dwell_per_pass_s(given.pad_mm, given.arm_speed_mm_s, given.overlap)
    time_s = working_time_s(
        given.section_mm, given.pad_mm, given.arm_speed_mm_s, given.overlap, given.passes
    )
    return (
        ("section", measured(given.section_mm, "mm")),
        ("pad", measured(given.pad_mm, "mm")),
        ("overlap", f"{written(given.overlap_percent)} %"),
        ("step from row to row", measured(step_mm(given), "mm")),
        ("rows drawn", str(len(row_centres_mm(given)))),
        ("passes", f"{given.passes}, {given.pattern}"),
        ("hand speed", measured(given.arm_speed_mm_s, "mm/s")),
        ("mean dwell in one pass", f"{significant(dwell_s)} s"),
        ("working time", _minutes(time_s)),
        ("least dwell between rows", f"{written(100 * least)} % of the mean"),
        ("greatest dwell between rows", f"{written(100 * greatest)} % of the mean"),
        ("unevenness", f"{written(100 * (greatest - least))} %"),
    )


def _minutes(seconds: float) -> str:
    return f"{written(seconds, 0)} s" if seconds < 100 else f"{significant(seconds / 60, 2)} min"


def _words(given: SectionOverlap) -> list[str]:
    said = dict(_numbers(given))
    second = {
        "parallel": "Every pass runs over the same rows.",
        "shifted": "Dashed: every second pass, half a row over.",
        "crossed": "Dashed: every second pass, at right angles. Where both sets dwell least "
        "or most, the spread stays as it is.",
    }
    least, greatest = said["least dwell between rows"], said["greatest dwell between rows"]
    return [
        f"Overlap {said['overlap']}: a step of {said['step from row to row']}.",
        f"Dwell between rows: {least.split(' of')[0]} to {greatest}, a spread of {said['unevenness']}.",
        second[given.pattern],
        f"{given.passes} passes at {said['hand speed']}: {said['working time']}, turns left out.",
        "The rim of the section gets less: lap the next section over it.",
    ]


def _alternative(given: SectionOverlap) -> str:
    listed = "; ".join(f"{name} {value}" for name, value in _numbers(given))
    return f"Straight rows over a square section, with the dwell across them. {listed}."


def _table(given: SectionOverlap) -> FigureTable:
    return FigureTable(("quantity", "value"), _numbers(given))


KIND = FigureKind(
    "section-overlap",
    "rows over a section, their overlap and how evenly the pad dwells",
    SectionOverlap,
    draw_section_overlap,
)
