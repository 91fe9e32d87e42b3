"""What one point of the pad draws in the same short time on the three classes of machine."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Self

from pydantic import model_validator

from academy.figures.figure import Figure, FigureKind, FigureTable
from academy.figures.geometry import round_length, scale_bar
from academy.figures.numerals import TIED, measured, significant, written
from academy.figures.parameters import Parameters, clash, number
from academy.figures.svg import Canvas, Point
from academy.figures.tracing import Motion, path_mm, placed
from academy.figures.wording import notes, notes_height

WIDTH = 320.0
PICTURE, ROW = 128.0, 140.0


class SpinTrace(Parameters):
    """A rotary, a free-spinning and a forced dual action, all held in one place."""

    time_ms: float = number(100, 5, 1000, "ms", "time drawn")
    pad_mm: float = number(150, 25, 200, "mm", "diameter of the pad")
    radius_mm: float = number(60, 0, 100, "mm", "distance of the point from the pad's centre")
    rotary_rpm: float = number(1200, 300, 3000, "rpm", "spin of the rotary")
    throw_mm: float = number(15, 1, 30, "mm", "diameter of the orbit circle")
    orbits_per_min: float = number(4800, 500, 15000, "/min", "orbits a minute")
    free_spin_rpm: float = number(60, 0, 800, "rpm", "spin of the free-spinning pad; 0: stalled")
    forced_spin_rpm: float = number(400, 10, 1000, "rpm", "spin of the forced pad")

    @model_validator(mode="after")
    def _on_the_pad(self) -> Self:
        if self.radius_mm > self.pad_mm / 2:
            raise clash("radius_mm", self.radius_mm, "at most half of pad_mm")
        return self


@dataclass(frozen=True, slots=True)
class Machine:
    """One class of machine and how it moves its pad."""

    name: str
    motion: Motion


def machines(given: SpinTrace) -> tuple[Machine, ...]:
    """Return the three classes in the order they are drawn."""
    throw_mm, orbits = given.throw_mm, given.orbits_per_min
    return (
        Machine("rotary", Motion(0, 0, given.rotary_rpm)),
        Machine("free-spinning", Motion(throw_mm, orbits, given.free_spin_rpm)),
        Machine("forced", Motion(throw_mm, orbits, given.forced_spin_rpm)),
    )


def draw_spin_trace(given: SpinTrace) -> Figure:
    """Draw the three paths one under the other, to one scale."""
    words = _words(given)
    foot = 3 * ROW + 24
    canvas = Canvas(WIDTH, foot + notes_height(words, WIDTH) + 6)
    units_per_mm = PICTURE / (given.pad_mm + given.throw_mm)
    for row, machine in enumerate(machines(given)):
        _draw_machine(canvas, given, machine, row * ROW, units_per_mm)
    length_mm = round_length(46 / units_per_mm)
    words_of_scale = measured(length_mm, "mm")
    scale_bar(canvas, Point(6, foot - 8), length_mm * units_per_mm, words_of_scale)
    notes(canvas, Point(2, foot), words, WIDTH)
    return Figure(canvas.finished(), _alternative(given), _table(given), given.caption)


def _draw_machine(
    canvas: Canvas, given: SpinTrace, machine: Machine, top: float, units_per_mm: float
) -> None:
    spindle = Point(4 + PICTURE / 2, top + 2 + PICTURE / 2)
    start = Point(spindle.x + machine.motion.throw_mm / 2 * units_per_mm, spindle.y)
    canvas.circle(start, given.pad_mm / 2 * units_per_mm, "figure-rule", stroke_dasharray="4 3")
    minutes = given.time_ms / 60000
    orbits, spins = (
        each * minutes for each in (machine.motion.orbits_per_min, machine.motion.spin_rpm)
    )
    places = path_mm(machine.motion.throw_mm, given.radius_mm, orbits, spins)
    points = placed(places, spindle, units_per_mm)
    canvas.polyline(points, "figure-accent")
    canvas.circle(points[0], 3.5, "figure-ink", stroke_width=1.5)
    canvas.circle(points[-1], 3, "figure-text")
    canvas.lines(Point(150, top + 36), _lines(given, machine), step=17)


def _lines(given: SpinTrace, machine: Machine) -> list[str]:
    orbits = given.time_ms / 60000 * machine.motion.orbits_per_min
    return [
        machine.name,
        f"spin {measured(machine.motion.spin_rpm, 'rpm')}",
        f"turned by {_degrees(given, machine)}",
        f"{significant(orbits, 2)} orbits" if orbits else "no orbit",
        f"{_speed(given, machine)} at this point",
    ]


def _degrees(given: SpinTrace, machine: Machine) -> str:
    return f"{significant(360 * machine.motion.spin_rpm * given.time_ms / 60000)}°"


def _speed(given: SpinTrace, machine: Machine) -> str:
    return f"{significant(machine.motion.mean_speed_m_s(given.radius_mm))}{TIED}m/s"


def _words(given: SpinTrace) -> list[str]:
    return [
        f"A point {measured(given.radius_mm, 'mm')} out on a {measured(given.pad_mm, 'mm')} pad, "
        f"for {measured(given.time_ms, 'ms')}. Ring: start; dot: end.",
        f"Both orbits: throw {measured(given.throw_mm, 'mm')}, {written(given.orbits_per_min)}/min.",
        "Speeds are means over many turns.",
    ]


def _alternative(given: SpinTrace) -> str:
    listed = "; ".join(", ".join(_lines(given, machine)) for machine in machines(given))
    return f"Paths of one point on three classes of machine. {' '.join(_words(given))} {listed}."


def _table(given: SpinTrace) -> FigureTable:
    rows = tuple(
        (
            machine.name,
            written(machine.motion.spin_rpm),
            _degrees(given, machine),
            written(machine.motion.orbits_per_min) if machine.motion.orbits_per_min else "none",
            significant(machine.motion.mean_speed_m_s(given.radius_mm)),
        )
        for machine in machines(given)
    )
    columns = ("machine", "spin (rpm)", "turned by", "orbits a minute", "mean speed (m/s)")
    return FigureTable(columns, rows)


KIND = FigureKind(
    "spin-trace",
    "one point of the pad on a rotary, a free-spinning and a forced machine",
    SpinTrace,
    draw_spin_trace,
)
