"""Hatching, arrows, leaders and scale bars, drawn as plain lines.

SVG patterns and markers need ids, so hatching and arrow heads are computed.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass

from academy.figures.svg import Canvas, Point, polar, through, trimmed

GOLDEN_ANGLE = math.pi * (3 - math.sqrt(5))


@dataclass(frozen=True, slots=True)
class Scale:
    """A straight scale from a value to a place; ``low`` falls on ``start``."""

    low: float
    high: float
    start: float
    end: float

    def __call__(self, value: float) -> float:
        share = (value - self.low) / (self.high - self.low)
        return self.start + share * (self.end - self.start)


def steps(low: float, high: float, most: int = 6) -> Iterator[float]:
    """Yield round numbers from ``low`` to ``high``, at most ``most`` of them."""
    rough = (high - low) / max(most - 1, 1)
    power = 10.0 ** math.floor(math.log10(rough))
    step = next(power * m for m in (1, 2, 5, 10) if power * m >= rough * 0.999)
    first = math.ceil(low / step - 1e-9)
    for count in range(first, math.floor(high / step + 1e-9) + 1):
        yield count * step


def round_length(longest: float) -> float:
    """Return the longest of 1, 2, 5, 10, ... that is not above ``longest``."""
    power = 10.0 ** math.floor(math.log10(longest))
    return next(power * m for m in (5, 2, 1) if power * m <= longest * 1.000001)


def hatch_rectangle(
    canvas: Canvas,
    corner: Point,
    width: float,
    height: float,
    gap: float = 6,
    falling: bool = False,
) -> None:
    """Hatch a rectangle at 45 degrees, rising to the right unless ``falling``."""
    pieces = []
    count = 1
    while count * gap < width + height:
        reach = count * gap
        left = Point(max(0.0, reach - height), min(reach, height))
        right = Point(min(reach, width), max(0.0, reach - width))
        pieces.append((left, right))
        count += 1
    if pieces and width > 0 and height > 0:
        lines = [
            (_placed(a, corner, width, falling), _placed(b, corner, width, falling))
            for a, b in pieces
        ]
        canvas.path(" ".join(through(line) for line in lines), "figure-ink", stroke_width=0.7)


def _placed(point: Point, corner: Point, width: float, falling: bool) -> Point:
    x = width - point.x if falling else point.x
    return Point(corner.x + x, corner.y + point.y)


def hatch_between(
    canvas: Canvas,
    low: float,
    high: float,
    edges: Callable[[float], tuple[float, float]],
    gap: float = 5,
) -> None:
    """Hatch upright lines from x ``low`` to ``high``; ``edges`` gives top and bottom at x."""
    count = math.floor((high - low) / gap)
    start = low + (high - low - count * gap) / 2
    lines = []
    for number in range(count + 1):
        x = start + number * gap
        top, bottom = edges(x)
        if bottom - top > 0.5:
            lines.append(through((Point(x, top), Point(x, bottom))))
    if lines:
        canvas.path(" ".join(lines), "figure-ink", stroke_width=0.7)


def arrow(canvas: Canvas, start: Point, end: Point, head: float = 6) -> None:
    """Draw an arrow from ``start`` to ``end``."""
    canvas.line(start, end)
    angle = math.atan2(-(end.y - start.y), end.x - start.x)
    left, right = (polar(end, head, angle + math.pi + turn) for turn in (0.4, -0.4))
    canvas.area(through((end, left, right), closed=True), "figure-text")


def dimension(canvas: Canvas, start: Point, end: Point) -> None:
    """Draw a dimension line with a tick across each end."""
    canvas.line(start, end)
    angle = math.atan2(-(end.y - start.y), end.x - start.x) + math.pi / 2
    for point in (start, end):
        canvas.line(polar(point, 4, angle), polar(point, 4, angle + math.pi))


def scale_bar(canvas: Canvas, at: Point, length: float, words: str) -> None:
    """Draw a scale bar from ``at`` to the right with its length printed above."""
    dimension(canvas, at, Point(at.x + length, at.y))
    canvas.text(Point(at.x, at.y - 7), words)


def arc(centre: Point, radius: float, start: float, end: float) -> str:
    """Return path data of an arc from angle ``start`` to ``end`` (radians, anticlockwise)."""
    first, last = polar(centre, radius, start), polar(centre, radius, end)
    wide = 1 if abs(end - start) > math.pi else 0
    turn = 0 if end > start else 1
    r = trimmed(radius)
    return (
        f"M{trimmed(first.x)} {trimmed(first.y)} "
        f"A{r} {r} 0 {wide} {turn} {trimmed(last.x)} {trimmed(last.y)}"
    )


def disc_points(count: int) -> Iterator[tuple[float, float]]:
    """Yield (radius share, angle) of points spread evenly over a disc, always the same.

    The golden-angle spiral of H. Vogel (1979), Math. Biosci. 44, 179: known
    from memory; used here only to spread marks without chance.
    """
    for number in range(count):
        yield math.sqrt((number + 0.5) / count), number * GOLDEN_ANGLE
