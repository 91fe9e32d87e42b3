"""The pressure under a pad that hangs out over the edge of a panel."""

from __future__ import annotations

from typing import Self

from pydantic import model_validator

from academy.domain.polishing.pressure import pressure_at_edge
from academy.figures.figure import Figure, FigureKind
from academy.figures.numerals import measured
from academy.figures.parameters import clash, number
from academy.figures.pressure_face import PressedPad, Touching, draw_pressed
from academy.figures.pressure_tilted import HALF, PANEL_Y, PLATE, THICK, draw_panel
from academy.figures.svg import Canvas, Point

FARTHEST = 0.9


class PressureOverhang(PressedPad):
    """Where the pad's centre is."""

    overhang_mm: float = number(
        0, -100, 90, "mm", "pad's centre beyond the edge; negative: still over the panel"
    )

    @model_validator(mode="after")
    def _still_touches(self) -> Self:
        if abs(self.overhang_mm) > self.pad_mm / 2 or self.beyond > FARTHEST:
            allowed = f"at most {FARTHEST:g} of the pad's radius beyond, one radius inside"
            raise clash("overhang_mm", self.overhang_mm, allowed)
        return self

    @property
    def beyond(self) -> float:
        """The overhang as a share of the pad's radius."""
        return self.overhang_mm / (self.pad_mm / 2)


def draw_pressure_overhang(given: PressureOverhang) -> Figure:
    """Draw the pad over a straight edge; what hangs out carries nothing."""
    touching = Touching(
        low=-1.0,
        high=-given.beyond,
        pressure=pressure_at_edge(given.force_n, given.pad_mm, given.overhang_mm),
        said=(("pad's centre", _place(given.overhang_mm)),),
        title="Pressure under a pad that hangs out over an edge",
        advice="At the edge itself the paint is often thinner too: tape it or stay off it.",
    )
    return draw_pressed(given, touching, lambda canvas: _draw_side(canvas, given.beyond))


def _place(overhang_mm: float) -> str:
    if overhang_mm == 0:
        return "on the edge"
    beyond = "beyond the edge" if overhang_mm > 0 else "inside the edge"
    return f"{measured(abs(overhang_mm), 'mm')} {beyond}"


def _draw_side(canvas: Canvas, beyond: float) -> None:
    low, high = 160.0 - HALF, 160.0 + HALF
    edge = 160.0 - beyond * HALF
    corner = Point(low, PANEL_Y - THICK)
    canvas.rectangle(corner, 2 * HALF, THICK, "figure-fill-2")
    canvas.rectangle(corner, 2 * HALF, THICK)
    plate = Point(low + 6, PANEL_Y - THICK - PLATE)
    canvas.rectangle(plate, 2 * HALF - 12, PLATE, "figure-soft")
    canvas.rectangle(plate, 2 * HALF - 12, PLATE)
    draw_panel(canvas, 4, edge, PANEL_Y)
    canvas.line(Point(edge, PANEL_Y), Point(edge, PANEL_Y + 10), "figure-ink", stroke_width=2)
    canvas.line(Point(low, PANEL_Y), Point(edge, PANEL_Y), "figure-accent", stroke_width=4)
    top = PANEL_Y - THICK - PLATE - 8
    canvas.line(
        Point(160, top), Point(160, PANEL_Y + 10), "figure-rule", stroke_dasharray="9 3 2 3"
    )
    canvas.text(Point(160, top - 6), "pad's centre", "middle")
    if high - edge > 30:
        canvas.text(Point(high, PANEL_Y + 14), "hangs out", "end")


KIND = FigureKind(
    "pressure-overhang",
    "the pressure under a pad that hangs out over an edge",
    PressureOverhang,
    draw_pressure_overhang,
)
