"""The path that one point of an orbiting, spinning pad draws on the paint."""

from __future__ import annotations

import math
from typing import Self

from pydantic import model_validator

from academy.figures.figure import Figure, FigureKind, FigureTable
from academy.figures.geometry import round_length, scale_bar
from academy.figures.numerals import TIED, measured, significant, written
from academy.figures.parameters import Parameters, clash, number, whole
from academy.figures.svg import Canvas, Point, polar
from academy.figures.tracing import Motion, path_mm, placed
from academy.figures.wording import notes, notes_height

WIDTH = 320.0
PICTURE = 236.0


class OrbitTrace(Parameters):
    """A dual action held in one place for a number of orbits."""

    throw_mm: float = number(15, 1, 30, "mm", "diameter of the orbit circle")
    orbits_per_min: float = number(4800, 500, 15000, "/min", "orbits a minute")
    spin_rpm: float = number(60, -800, 800, "rpm", "spin of the pad; negative: against the orbit")
    radius_mm: float = number(60, 0, 100, "mm", "distance of the point from the pad's centre")
    pad_mm: float = number(150, 25, 200, "mm", "diameter of the pad")
    orbits: int = whole(10, 1, 60, "orbits drawn")

    @model_validator(mode="after")
    def _on_the_pad(self) -> Self:
        if self.radius_mm > self.pad_mm / 2:
            raise clash("radius_mm", self.radius_mm, "at most half of pad_mm")
        return self


def draw_orbit_trace(given: OrbitTrace) -> Figure:
    """Draw the path to the scale of the pad, with start and end marked."""
    words = _words(given)
    canvas = Canvas(WIDTH, PICTURE + 14 + notes_height(words, WIDTH) + 6)
    units_per_mm = PICTURE / (given.pad_mm + given.throw_mm + 4)
    _draw_pad(canvas, given, units_per_mm)
    _draw_path(canvas, given, units_per_mm)
    length_mm = round_length(46 / units_per_mm)
    scale_bar(canvas, Point(4, PICTURE), length_mm * units_per_mm, measured(length_mm, "mm"))
    notes(canvas, Point(2, PICTURE + 14), words, WIDTH)
    return Figure(canvas.finished(), _alternative(given), _table(given), given.caption)


def _centre() -> Point:
    return Point(WIDTH / 2, PICTURE / 2)


def _draw_pad(canvas: Canvas, given: OrbitTrace, units_per_mm: float) -> None:
    spindle = _centre()
    start = Point(spindle.x + given.throw_mm / 2 * units_per_mm, spindle.y)
    canvas.circle(start, given.pad_mm / 2 * units_per_mm, "figure-rule", stroke_dasharray="4 3")
    canvas.line(Point(spindle.x - 5, spindle.y), Point(spindle.x + 5, spindle.y))
    canvas.line(Point(spindle.x, spindle.y - 5), Point(spindle.x, spindle.y + 5))
    reach = (given.radius_mm + given.throw_mm / 2) * units_per_mm
    canvas.text(
        Point(spindle.x, spindle.y + (reach + 16 if reach < 30 else 20)), "spindle", "middle"
    )
    canvas.text(Point(4, 14), "pad rim")
    rim = polar(start, given.pad_mm / 2 * units_per_mm, math.radians(142))
    canvas.line(Point(40, 20), rim, "figure-rule")


def _draw_path(canvas: Canvas, given: OrbitTrace, units_per_mm: float) -> None:
    centre = _centre()
    spins = spin_per_orbit(given) * given.orbits
    places = path_mm(given.throw_mm, given.radius_mm, given.orbits, spins)
    points = placed(places, centre, units_per_mm)
    canvas.polyline(points, "figure-accent")
    canvas.circle(points[0], 4, "figure-ink", stroke_width=1.5)
    canvas.circle(points[-1], 3.5, "figure-text")
    canvas.circle(Point(256, 12), 4, "figure-ink", stroke_width=1.5)
    canvas.text(Point(264, 16), "start")
    canvas.circle(Point(256, 30), 3.5, "figure-text")
    canvas.text(Point(264, 34), "end")


def spin_per_orbit(given: OrbitTrace) -> float:
    """Return how many turns the pad spins in one orbit."""
    return given.spin_rpm / given.orbits_per_min


def swept_degrees(given: OrbitTrace) -> float:
    """Return the angle the pad spins through while the path is drawn."""
    return 360 * spin_per_orbit(given) * given.orbits


def mean_speed_m_s(given: OrbitTrace) -> float:
    """Return the mean speed of the point over many orbits."""
    motion = Motion(given.throw_mm, given.orbits_per_min, given.spin_rpm)
    return motion.mean_speed_m_s(given.radius_mm)


def _numbers(given: OrbitTrace) -> tuple[tuple[str, str], ...]:
    seconds = 60 * given.orbits / given.orbits_per_min
    return (
        ("throw", measured(given.throw_mm, "mm")),
        ("orbits a minute", f"{written(given.orbits_per_min)}/min"),
        ("spin", measured(given.spin_rpm, "rpm")),
        ("distance of the point from the pad's centre", measured(given.radius_mm, "mm")),
        ("orbits drawn", str(given.orbits)),
        ("time drawn", f"{significant(seconds)}{TIED}s"),
        ("pad turned by", f"{significant(abs(swept_degrees(given)))}°"),
        ("mean speed of the point", f"{significant(mean_speed_m_s(given))}{TIED}m/s"),
    )


def _words(given: OrbitTrace) -> list[str]:
    said = dict(_numbers(given))
    return [
        f"Throw {said['throw']}, {said['orbits a minute']}, spin {said['spin']}.",
        f"A point {said[_POINT]} out: {said['orbits drawn']} orbits in {said['time drawn']}.",
        f"The pad turned by {said['pad turned by']}.",
        f"Mean speed of the point {said['mean speed of the point']}.",
        *([] if given.spin_rpm else ["No spin: every orbit runs over the same circle."]),
    ]


_POINT = "distance of the point from the pad's centre"


def _alternative(given: OrbitTrace) -> str:
    listed = "; ".join(f"{name} {value}" for name, value in _numbers(given))
    shape = "small circles one over the other" if not given.spin_rpm else "small loops side by side"
    return f"Path of one point of a {measured(given.pad_mm, 'mm')} pad held in place: {shape}. {listed}."


def _table(given: OrbitTrace) -> FigureTable:
    return FigureTable(("quantity", "value"), _numbers(given))


KIND = FigureKind(
    "orbit-trace",
    "the path of one point of a dual-action pad",
    OrbitTrace,
    draw_orbit_trace,
)
