"""Where the marked spots of a section lie, away from its edges."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Self

from pydantic import model_validator

from academy.figures.figure import Figure, FigureKind, FigureTable
from academy.figures.geometry import dimension
from academy.figures.numerals import measured, written
from academy.figures.parameters import Parameters, clash, number, whole
from academy.figures.svg import Canvas, Point
from academy.figures.wording import notes, notes_height

WIDTH = 320.0
LEFT, TOP = 44.0, 30.0
PICTURE = 240.0
MOST = 12
# How many spots stand in each row, top to bottom: five lie as on a die.
ROWS = {
    1: (1,), 2: (2,), 3: (3,), 4: (2, 2), 5: (2, 1, 2), 6: (3, 3), 7: (2, 3, 2),
    8: (3, 2, 3), 9: (3, 3, 3), 10: (3, 4, 3), 11: (4, 3, 4), 12: (4, 4, 4),
}  # fmt: skip


class SpotGrid(Parameters):
    """A rectangular section with its spots."""

    spots: int = whole(5, 1, MOST, "marked spots")
    section_width_mm: float = number(450, 150, 1000, "mm", "width of the section")
    section_height_mm: float = number(450, 150, 1000, "mm", "height of the section")
    edge_mm: float = number(30, 10, 150, "mm", "least distance of a spot from the section's edge")

    @model_validator(mode="after")
    def _leaves_room(self) -> Self:
        shorter = min(self.section_width_mm, self.section_height_mm)
        if self.edge_mm > shorter / 3:
            raise clash("edge_mm", self.edge_mm, "at most a third of the shorter side")
        if shorter * 2 < max(self.section_width_mm, self.section_height_mm):
            raise clash("section_width_mm", self.section_width_mm, "a side at most twice the other")
        return self


@dataclass(frozen=True, slots=True)
class Spot:
    """A numbered spot, in millimetres from the section's left and upper edge."""

    number: int
    from_left_mm: float
    from_top_mm: float


def spots_of(given: SpotGrid) -> tuple[Spot, ...]:
    """Return the spots row by row, spread evenly and never nearer the edge than asked."""
    rows = ROWS[given.spots]
    heights = _spread(given.section_height_mm, given.edge_mm, len(rows))
    places = [
        (x, y)
        for y, count in zip(heights, rows, strict=True)
        for x in _spread(given.section_width_mm, given.edge_mm, count)
    ]
    return tuple(Spot(count, x, y) for count, (x, y) in enumerate(places, 1))


def _spread(length_mm: float, edge_mm: float, count: int) -> list[float]:
    if count == 1:
        return [length_mm / 2]
    step_mm = (length_mm - 2 * edge_mm) / (count - 1)
    return [edge_mm + step_mm * number for number in range(count)]


def draw_spot_grid(given: SpotGrid) -> Figure:
    """Draw the section to scale with a numbered cross at each spot."""
    longer = max(given.section_width_mm, given.section_height_mm)
    units_per_mm = PICTURE / longer
    height = given.section_height_mm * units_per_mm
    words = _words(given)
    canvas = Canvas(WIDTH, TOP + height + 14 + notes_height(words, WIDTH) + 6)
    _draw_section(canvas, given, units_per_mm)
    for spot in spots_of(given):
        _draw_spot(canvas, spot, given, units_per_mm)
    notes(canvas, Point(2, TOP + height + 14), words, WIDTH)
    return Figure(canvas.finished(), _alternative(given), _table(given), given.caption)


def _draw_section(canvas: Canvas, given: SpotGrid, units_per_mm: float) -> None:
    width, height = given.section_width_mm * units_per_mm, given.section_height_mm * units_per_mm
    inset = given.edge_mm * units_per_mm
    canvas.rectangle(Point(LEFT, TOP), width, height, "figure-fill-1")
    canvas.rectangle(Point(LEFT, TOP), width, height, "figure-ink", stroke_width=1.5)
    canvas.rectangle(
        Point(LEFT + inset, TOP + inset),
        width - 2 * inset,
        height - 2 * inset,
        "figure-rule",
        stroke_dasharray="4 3",
    )
    dimension(canvas, Point(LEFT, TOP - 10), Point(LEFT + width, TOP - 10))
    words = measured(given.section_width_mm, "mm")
    canvas.text(Point(LEFT + width / 2, TOP - 16), words, "middle")
    dimension(canvas, Point(LEFT - 10, TOP), Point(LEFT - 10, TOP + height))
    canvas.lines(
        Point(LEFT - 16, TOP + height / 2 - 4), (written(given.section_height_mm), "mm"), "end"
    )


def _draw_spot(canvas: Canvas, spot: Spot, given: SpotGrid, units_per_mm: float) -> None:
    x, y = LEFT + spot.from_left_mm * units_per_mm, TOP + spot.from_top_mm * units_per_mm
    canvas.line(Point(x - 7, y), Point(x + 7, y), "figure-accent", stroke_width=2)
    canvas.line(Point(x, y - 7), Point(x, y + 7), "figure-accent", stroke_width=2)
    # The number stands on the side of the cross that looks into the section.
    low = spot.from_top_mm > given.section_height_mm * 0.6
    right = spot.from_left_mm > given.section_width_mm * 0.6
    place = Point(x + (-5 if right else 5), y + (-7 if low else 18))
    canvas.text(place, str(spot.number), "end" if right else "start", size=14)


def _words(given: SpotGrid) -> list[str]:
    plural = "spot" if given.spots == 1 else "spots"
    return [
        f"{given.spots} {plural}, each at least {measured(given.edge_mm, 'mm')} from the edge.",
        "Dashed: that distance. Read the spots in this order, before and after.",
    ]


def _alternative(given: SpotGrid) -> str:
    listed = "; ".join(
        f"spot {spot.number} at {measured(spot.from_left_mm, 'mm')} from the left "
        f"and {measured(spot.from_top_mm, 'mm')} from the top"
        for spot in spots_of(given)
    )
    return (
        f"Section {measured(given.section_width_mm, 'mm')} wide and "
        f"{measured(given.section_height_mm, 'mm')} high; spots: {given.spots}, "
        f"at least {measured(given.edge_mm, 'mm')} from the edges. {listed}."
    )


def _table(given: SpotGrid) -> FigureTable:
    rows = tuple(
        (str(spot.number), written(spot.from_left_mm), written(spot.from_top_mm))
        for spot in spots_of(given)
    )
    return FigureTable(("spot", "from the left (mm)", "from the top (mm)"), rows)


KIND = FigureKind(
    "spot-grid",
    "the marked spots of a section, away from its edges",
    SpotGrid,
    draw_spot_grid,
)
