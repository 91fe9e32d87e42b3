"""The pressure under a pad that bridges a crown or a body line."""

from __future__ import annotations

from typing import Self

from pydantic import model_validator

from academy.domain.polishing.pressure import pressure_on_strip
from academy.figures.figure import Figure, FigureKind
from academy.figures.numerals import measured
from academy.figures.parameters import clash, number
from academy.figures.pressure_face import PressedPad, Touching, draw_pressed
from academy.figures.pressure_tilted import HALF, PANEL_Y, PLATE, THICK
from academy.figures.svg import Canvas, Point

# The model's area, strip × diameter, is good while the strip is narrow.
WIDEST = 0.4
FALL = 26.0


class PressureCrown(PressedPad):
    """How wide the strip is that touches."""

    strip_mm: float = number(20, 2, 80, "mm", "width of the strip that touches")

    @model_validator(mode="after")
    def _narrow(self) -> Self:
        if self.strip_mm > WIDEST * self.pad_mm:
            raise clash("strip_mm", self.strip_mm, f"at most {WIDEST:g} of pad_mm")
        return self


def draw_pressure_crown(given: PressureCrown) -> Figure:
    """Draw a flat pad on a crown, touching on a strip right across its face."""
    half = given.strip_mm / given.pad_mm
    touching = Touching(
        low=-half,
        high=half,
        pressure=pressure_on_strip(given.force_n, given.pad_mm, given.strip_mm),
        said=(("strip", measured(given.strip_mm, "mm")),),
        title="Pressure under a pad that bridges a crown",
        advice="On a crown or a body line press less, use a smaller pad, or tape it off.",
    )
    return draw_pressed(given, touching, lambda canvas: _draw_side(canvas, half))


def _draw_side(canvas: Canvas, half: float) -> None:
    crown = PANEL_Y - 14
    low, high = 160.0 - half * HALF, 160.0 + half * HALF
    corner = Point(160 - HALF, crown - THICK)
    canvas.rectangle(corner, 2 * HALF, THICK, "figure-fill-2")
    canvas.rectangle(corner, 2 * HALF, THICK)
    plate = Point(160 - HALF + 6, crown - THICK - PLATE)
    canvas.rectangle(plate, 2 * HALF - 12, PLATE, "figure-soft")
    canvas.rectangle(plate, 2 * HALF - 12, PLATE)
    left = [_fallen(x, low, crown) for x in range(4, int(low), 6)]
    right = [_fallen(316 - x, high, crown) for x in range(int(316 - high), -1, -6)]
    canvas.polyline([*left, *right], "figure-ink", stroke_width=2)
    under = [Point(point.x, point.y + 8) for point in (*left, *right)]
    canvas.polyline(under, "figure-rule")
    canvas.line(Point(low, crown), Point(high, crown), "figure-accent", stroke_width=4)


def _fallen(x: float, shoulder: float, crown: float) -> Point:
    """Return the panel's surface away from the strip, falling off as a parabola."""
    away = (x - shoulder) / 150
    return Point(x, crown + FALL * away**2)


KIND = FigureKind(
    "pressure-crown",
    "the pressure under a pad that bridges a crown",
    PressureCrown,
    draw_pressure_crown,
)
