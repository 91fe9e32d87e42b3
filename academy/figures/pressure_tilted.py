"""The pressure under a tilted pad, which touches with a part of its face."""

from __future__ import annotations

from academy.domain.polishing.pressure import pressure_on_share, share_on_panel
from academy.figures.figure import Figure, FigureKind
from academy.figures.geometry import hatch_rectangle
from academy.figures.parameters import number
from academy.figures.pressure_face import PressedPad, Touching, draw_pressed
from academy.figures.svg import Canvas, Point, through

PANEL_Y, HALF, THICK, PLATE = 88.0, 130.0, 30.0, 12.0
STEEPEST = 0.22


class PressureTilted(PressedPad):
    """How much of the face still touches."""

    touching_percent: float = number(20, 2, 100, "%", "share of the face that touches")


def draw_pressure_tilted(given: PressureTilted) -> Figure:
    """Draw a pad tilted to the right until only a share of its face touches."""
    share = given.touching_percent / 100
    chord = chord_of_share(share)
    touching = Touching(
        low=chord,
        high=1.0,
        pressure=pressure_on_share(given.force_n, given.pad_mm, share),
        said=(("touching", f"{given.touching_percent:g} %"),),
        title="Pressure under a tilted pad",
        advice="Keep the pad flat. The tilt is drawn too large.",
    )
    return draw_pressed(given, touching, lambda canvas: _draw_side(canvas, chord))


def chord_of_share(share: float) -> float:
    """Return where the chord lies that cuts ``share`` off a disc, from −1 to 1 in radii.

    The share itself comes from the pressure model; the chord is found by halving.
    """
    low, high = -1.0, 1.0
    for _ in range(40):
        middle = (low + high) / 2
        low, high = (middle, high) if share_on_panel(2.0, middle) > share else (low, middle)
    return (low + high) / 2


def _draw_side(canvas: Canvas, chord: float) -> None:
    """Draw the pad from the side: foam squeezed where it touches, lifted where not."""
    middle = 160.0
    reach = max(HALF * (1 - chord), 1.0)
    slope = (
        0.0 if chord <= -0.999 else min(0.5 * THICK / reach, STEEPEST, 40 / (HALF * (1 + chord)))
    )
    edge, low, high = middle + chord * HALF, middle - HALF, middle + HALF
    lift_low, lift_high = slope * (edge - low), -slope * (high - edge)
    face = (Point(low, PANEL_Y - lift_low), Point(edge, PANEL_Y), Point(high, PANEL_Y))
    tops = (PANEL_Y - THICK - lift_high, PANEL_Y - THICK - lift_low)
    foam = (*face, Point(high, tops[0]), Point(low, tops[1]))
    canvas.area(through(foam, closed=True), "figure-fill-2")
    canvas.path(through(foam, closed=True))
    plate = (
        Point(high - 6, tops[0]),
        Point(high - 6, tops[0] - PLATE),
        Point(low + 6, tops[1] - PLATE),
        Point(low + 6, tops[1]),
    )
    canvas.area(through(plate, closed=True), "figure-soft")
    canvas.path(through(plate, closed=True))
    draw_panel(canvas, 10, 310, PANEL_Y)
    canvas.line(Point(edge, PANEL_Y), Point(high, PANEL_Y), "figure-accent", stroke_width=4)


def draw_panel(canvas: Canvas, low: float, high: float, y: float) -> None:
    """Draw a flat panel from the side."""
    hatch_rectangle(canvas, Point(low, y), high - low, 10)
    canvas.line(Point(low, y), Point(high, y), "figure-ink", stroke_width=2)


KIND = FigureKind(
    "pressure-tilted",
    "the pressure under a pad that is tilted",
    PressureTilted,
    draw_pressure_tilted,
)
