"""A small SVG writer: presentation attributes and a fixed set of classes, nothing else.

The site's style sheet colours the classes for light, dark and print.  Each
shape also carries plain attributes, so a figure that is saved or printed
without the style sheet still reads.  No ids, no style and no script: the
content policy forbids inline style, and ids would clash between two figures.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, field
from xml.sax.saxutils import escape, quoteattr

SMALLEST_TEXT = 11.0
ACCENT = "#0b5c63"
# One hue in six strengths; ink text keeps its contrast on the first four.
STRENGTHS = (0.08, 0.17, 0.28, 0.40, 0.58, 0.85)

LINES = {
    "figure-ink": {"stroke": "currentColor"},
    "figure-accent": {"stroke": ACCENT},
    "figure-rule": {"stroke": "currentColor", "stroke-opacity": "0.35"},
}


@dataclass(frozen=True, slots=True)
class Point:
    """A place in the drawing, in its own units, y downwards."""

    x: float
    y: float


def polar(centre: Point, radius: float, angle: float) -> Point:
    """Return the point at ``angle`` (radians, anticlockwise as seen) around ``centre``."""
    return Point(centre.x + radius * math.cos(angle), centre.y - radius * math.sin(angle))


def trimmed(value: float) -> str:
    """Write a coordinate with at most two decimals and no minus nought."""
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def through(points: Sequence[Point], closed: bool = False) -> str:
    """Return path data through the points."""
    steps = " L".join(f"{trimmed(p.x)} {trimmed(p.y)}" for p in points)
    return f"M{steps}{' Z' if closed else ''}"


@dataclass(slots=True)
class Canvas:
    """A drawing in the making, ``width`` by ``height`` units."""

    width: float
    height: float
    parts: list[str] = field(default_factory=list)

    def line(self, start: Point, end: Point, kind: str = "figure-ink", **more: object) -> None:
        """Draw a straight hairline."""
        self.path(through((start, end)), kind, **more)

    def path(self, data: str, kind: str = "figure-ink", **more: object) -> None:
        """Draw an open or closed line of path data, not filled."""
        self._element("path", {"class": kind, "d": data, **_looks(kind), **more})

    def polyline(self, points: Sequence[Point], kind: str = "figure-ink", **more: object) -> None:
        """Draw a line through the points."""
        self.path(through(points), kind, **more)

    def rectangle(
        self, corner: Point, width: float, height: float, kind: str = "figure-ink", **more: object
    ) -> None:
        """Outline a rectangle, or fill it where ``kind`` is a fill."""
        box = {"x": corner.x, "y": corner.y, "width": width, "height": height}
        self._element("rect", {"class": kind, **box, **_looks(kind), **more})

    def circle(
        self, centre: Point, radius: float, kind: str = "figure-ink", **more: object
    ) -> None:
        """Outline a circle, or fill it where ``kind`` is a fill."""
        place = {"cx": centre.x, "cy": centre.y, "r": radius}
        self._element("circle", {"class": kind, **place, **_looks(kind), **more})

    def area(self, data: str, kind: str = "figure-soft") -> None:
        """Fill path data."""
        self._element("path", {"class": kind, "d": data, **_looks(kind)})

    def text(self, at: Point, words: str, anchor: str = "start", size: float = 12.0) -> None:
        """Print words; ``anchor`` is start, middle or end."""
        looks = {"font-size": max(size, SMALLEST_TEXT), "text-anchor": anchor}
        place = {"x": at.x, "y": at.y, "fill": "currentColor"}
        attributes = _attributes({"class": "figure-text", **place, **looks})
        self.parts.append(f"<text {attributes}>{escape(words)}</text>")

    def lines(
        self, at: Point, words: Sequence[str], anchor: str = "start", step: float = 15
    ) -> None:
        """Print several lines of words, one under the other."""
        for number, line in enumerate(words):
            self.text(Point(at.x, at.y + number * step), line, anchor)

    def finished(self) -> str:
        """Return the whole drawing."""
        box = f"0 0 {trimmed(self.width)} {trimmed(self.height)}"
        head = f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="{box}" role="img">'
        return f"{head}{''.join(self.parts)}</svg>"

    def _element(self, name: str, attributes: dict[str, object]) -> None:
        self.parts.append(f"<{name} {_attributes(attributes)}/>")


def _looks(kind: str) -> dict[str, object]:
    if kind in LINES:
        return {"fill": "none", "stroke-width": 1, **LINES[kind]}
    if kind == "figure-text":
        return {"fill": "currentColor"}
    if kind == "figure-soft":
        return {"fill": "currentColor", "fill-opacity": 0.08}
    return {"fill": ACCENT, "fill-opacity": STRENGTHS[int(kind.rpartition("-")[2]) - 1]}


def _attributes(attributes: dict[str, object]) -> str:
    # A look given as stroke_width replaces the stroke-width that the class brings.
    named = {name.replace("_", "-"): value for name, value in attributes.items()}
    return " ".join(f"{name}={quoteattr(_value(value))}" for name, value in named.items())


def _value(value: object) -> str:
    return trimmed(value) if isinstance(value, int | float) else str(value)
