"""Axes with round ticks, for bars and charts."""

from __future__ import annotations

from academy.figures.geometry import Scale, steps
from academy.figures.numerals import written
from academy.figures.svg import Canvas, Point


def horizontal_axis(canvas: Canvas, scale: Scale, y: float, unit: str, most: int = 7) -> None:
    """Draw an axis at ``y`` with its ticks below and the unit after the last number."""
    canvas.line(Point(scale.start, y), Point(scale.end, y))
    ticks = list(steps(scale.low, scale.high, most))
    for tick in ticks:
        x = scale(tick)
        canvas.line(Point(x, y), Point(x, y + 4))
        words = f"{written(tick, 2)} {unit}" if tick == ticks[-1] else written(tick, 2)
        canvas.text(Point(x, y + 17), words, "middle")


def vertical_axis(
    canvas: Canvas, scale: Scale, x: float, unit: str, across: float = 0, most: int = 7
) -> None:
    """Draw an axis at ``x``, the unit over it, with rules ``across`` units long to the right."""
    canvas.line(Point(x, scale.start), Point(x, scale.end))
    canvas.text(Point(x - 6, scale.end - 9), unit, "end")
    for tick in steps(scale.low, scale.high, most):
        y = scale(tick)
        canvas.line(Point(x - 4, y), Point(x, y))
        canvas.text(Point(x - 6, y + 4), written(tick, 2), "end")
        if across:
            canvas.line(Point(x, y), Point(x + across, y), "figure-rule", stroke_width=0.6)
