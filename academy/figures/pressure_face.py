"""What the three pressure figures share: a side view, the face, and the numbers beside it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from math import sqrt

from academy.domain.polishing.pressure import ContactPressure, flat_pressure_kpa
from academy.figures.figure import Figure, FigureTable
from academy.figures.geometry import hatch_between
from academy.figures.numerals import TIED, measured, significant, written
from academy.figures.parameters import Parameters, number
from academy.figures.svg import Canvas, Point
from academy.figures.wording import notes, notes_height

WIDTH = 320.0
SIDE_VIEW = 112.0
RADIUS = 62.0
FACE = Point(72.0, SIDE_VIEW + 26 + RADIUS)


class PressedPad(Parameters):
    """A pad and the force that the hand and the machine's weight press with."""

    force_n: float = number(40, 1, 200, "N", "force on the pad, machine's weight included")
    pad_mm: float = number(150, 25, 200, "mm", "diameter of the pad")


@dataclass(frozen=True, slots=True)
class Touching:
    """Where the face touches: from ``low`` to ``high`` across it, as shares of its radius."""

    low: float
    high: float
    pressure: ContactPressure
    said: tuple[tuple[str, str], ...]
    title: str
    advice: str


def draw_pressed(
    given: PressedPad, touching: Touching, side_view: Callable[[Canvas], None]
) -> Figure:
    """Draw the side view over the face with the touching part hatched."""
    words = _words(given, touching)
    foot = FACE.y + RADIUS + 12
    canvas = Canvas(WIDTH, foot + notes_height(words, WIDTH) + 6)
    side_view(canvas)
    _draw_face(canvas, touching)
    canvas.lines(Point(150, FACE.y - 44), _beside(given, touching), step=19)
    notes(canvas, Point(2, foot), words, WIDTH)
    numbers = numbers_of(given, touching)
    listed = "; ".join(f"{name} {value}" for name, value in numbers)
    alternative = f"{touching.title}. {listed}. {touching.advice}"
    table = FigureTable(("quantity", "value"), numbers)
    return Figure(canvas.finished(), alternative, table, given.caption)


def numbers_of(given: PressedPad, touching: Touching) -> tuple[tuple[str, str], ...]:
    """Return the numbers of the figure, each with its unit."""
    factor = touching.pressure.factor
    return (
        ("force", measured(given.force_n, "N")),
        ("pad", measured(given.pad_mm, "mm")),
        *touching.said,
        ("share of the face that touches", f"{significant(100 / factor)} %"),
        ("pressure of the flat pad", _kpa(flat_pressure_kpa(given.force_n, given.pad_mm))),
        ("pressure here", _kpa(touching.pressure.pressure_kpa)),
        ("times the flat pad's", significant(factor)),
        (
            "force that keeps the flat pad's pressure",
            f"{significant(given.force_n / factor)}{TIED}N",
        ),
    )


def _kpa(pressure_kpa: float) -> str:
    return f"{significant(pressure_kpa)}{TIED}kPa"


def _draw_face(canvas: Canvas, touching: Touching) -> None:
    canvas.text(Point(2, SIDE_VIEW + 14), "the face, from the paint's side")
    low, high = FACE.x + touching.low * RADIUS, FACE.x + touching.high * RADIUS
    canvas.circle(FACE, RADIUS, "figure-fill-1")
    hatch_between(canvas, low, high, _rim, gap=4)
    canvas.circle(FACE, RADIUS, "figure-ink")
    for x in (low, high):
        top, bottom = _rim(x)
        if bottom - top > 1:
            canvas.line(Point(x, top), Point(x, bottom), "figure-accent", stroke_width=2)


def _rim(x: float) -> tuple[float, float]:
    half = sqrt(max(0.0, RADIUS**2 - (x - FACE.x) ** 2))
    return FACE.y - half, FACE.y + half


def _beside(given: PressedPad, touching: Touching) -> list[str]:
    said = dict(numbers_of(given, touching))
    return [
        f"{said['share of the face that touches']} touches (hatched)",
        f"flat {said['pressure of the flat pad']}",
        f"here {said['pressure here']}",
        f"{significant(touching.pressure.factor)} times the pressure",
    ]


def _words(given: PressedPad, touching: Touching) -> list[str]:
    kept = significant(given.force_n / touching.pressure.factor)
    placed = "; ".join(f"{name} {value}" for name, value in touching.said)
    return [
        f"{measured(given.force_n, 'N')} on a {written(given.pad_mm)}{TIED}mm pad; {placed}.",
        f"{kept}{TIED}N here presses as hard as {measured(given.force_n, 'N')} flat.",
        touching.advice,
    ]
