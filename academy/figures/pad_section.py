"""A pad on its plate, cut through the middle: one half, drawn from its dimensions."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, Self

from pydantic import model_validator

from academy.figures.figure import Figure, FigureKind, FigureTable
from academy.figures.geometry import dimension, hatch_rectangle
from academy.figures.numerals import measured, written
from academy.figures.parameters import Parameters, choice, clash, number
from academy.figures.svg import Canvas, Point, trimmed
from academy.figures.wording import Label, labels_beside, notes, notes_height

WIDTH = 320.0
CENTRE, TOP = 12.0, 42.0
WIDEST, TALLEST = 182.0, 170.0
PANEL = 18.0

FACES = {
    "foam": "foam",
    "wool": "wool pile",
    "microfibre": "microfibre pile",
    "hybrid": "fibre pile",
}
# Common practice, no source: woven backings are one to three millimetres thick.
WOVEN_BACKING_MM = 2.0


class PadSection(Parameters):
    """The pad, its plate and what holds them together."""

    kind: Literal["foam", "wool", "microfibre", "hybrid"] = choice(
        "foam", tuple(FACES), "what the pad is made of"
    )
    pad_mm: float = number(150, 25, 200, "mm", "diameter of the pad")
    plate_mm: float = number(140, 20, 190, "mm", "diameter of the backing plate")
    thickness_mm: float = number(25, 5, 60, "mm", "thickness of the pad below the hook layer")
    fibre_mm: float = number(4, 1, 30, "mm", "length of the pile on a microfibre or hybrid pad")
    hook_mm: float = number(3, 1, 8, "mm", "thickness of the hook and loop layer")
    plate_thickness_mm: float = number(12, 4, 30, "mm", "thickness of the plate")
    hole_mm: float = number(0, 0, 40, "mm", "width of the hole in the middle; 0 draws none")

    @model_validator(mode="after")
    def _fits_together(self) -> Self:
        if self.plate_mm > self.pad_mm:
            raise clash("plate_mm", self.plate_mm, "at most pad_mm")
        if self.hole_mm > self.plate_mm / 2:
            raise clash("hole_mm", self.hole_mm, "at most half of plate_mm")
        if self.kind in ("microfibre", "hybrid") and self.fibre_mm > self.thickness_mm:
            raise clash("fibre_mm", self.fibre_mm, "at most thickness_mm")
        return self


@dataclass(frozen=True, slots=True)
class Slice:
    """One layer of the section, from the machine down to the paint."""

    name: str
    width_mm: float
    thickness_mm: float
    look: Literal["plate", "hooks", "cells", "pile", "weave"]


def slices(given: PadSection) -> tuple[Slice, ...]:
    """Return the layers from the plate down."""
    plate = Slice("backing plate", given.plate_mm, given.plate_thickness_mm, "plate")
    hooks = Slice("hook and loop", given.plate_mm, given.hook_mm, "hooks")
    return (plate, hooks, *_pad_slices(given))


def _pad_slices(given: PadSection) -> tuple[Slice, ...]:
    face = FACES[given.kind]
    if given.kind == "foam":
        return (Slice(face, given.pad_mm, given.thickness_mm, "cells"),)
    if given.kind == "wool":
        pile_mm = given.thickness_mm - WOVEN_BACKING_MM
        backing = Slice("woven backing", given.pad_mm, WOVEN_BACKING_MM, "weave")
        return (backing, Slice(face, given.pad_mm, pile_mm, "pile"))
    core_mm = given.thickness_mm - given.fibre_mm
    core = Slice("foam core", given.pad_mm, core_mm, "cells")
    pile = Slice(face, given.pad_mm, given.fibre_mm, "pile")
    return (core, pile) if core_mm else (pile,)


def draw_pad_section(given: PadSection) -> Figure:
    """Draw the section with one scale for widths and thicknesses."""
    layers = slices(given)
    depth_mm = sum(layer.thickness_mm for layer in layers)
    units_per_mm = min(2 * WIDEST / given.pad_mm, TALLEST / depth_mm)
    words = _words(given)
    bottom = TOP + max(depth_mm * units_per_mm + PANEL, 35 * (len(layers) + 1)) + 8
    canvas = Canvas(WIDTH, bottom + notes_height(words, WIDTH) + 6)
    labels = _draw_slices(canvas, given, layers, units_per_mm)
    labels_beside(canvas, labels, CENTRE + WIDEST + 4, 216, (TOP - 14, bottom))
    _draw_width(canvas, given, TOP + depth_mm * units_per_mm + PANEL, units_per_mm)
    notes(canvas, Point(2, bottom), words, WIDTH)
    return Figure(canvas.finished(), _alternative(given), _table(given), given.caption)


def _draw_slices(
    canvas: Canvas, given: PadSection, layers: tuple[Slice, ...], units_per_mm: float
) -> list[Label]:
    labels = []
    y = TOP
    for layer in layers:
        height = layer.thickness_mm * units_per_mm
        hole = 0 if layer.look in ("plate", "hooks") else given.hole_mm / 2 * units_per_mm
        width = layer.width_mm / 2 * units_per_mm - hole
        _draw_slice(canvas, layer.look, Point(CENTRE + hole, y), width, height)
        labels.append(Label(y + height / 2, (layer.name, measured(layer.thickness_mm, "mm"))))
        y += height
    hatch_rectangle(canvas, Point(CENTRE, y), WIDEST, PANEL)
    canvas.line(Point(CENTRE, y), Point(CENTRE + WIDEST, y), "figure-ink", stroke_width=2)
    return [*labels, Label(y + PANEL / 2, ("panel",))]


def _draw_slice(canvas: Canvas, look: str, corner: Point, width: float, height: float) -> None:
    fills = {"plate": "figure-soft", "hooks": "figure-fill-3", "weave": "figure-fill-4"}
    canvas.rectangle(corner, width, height, fills.get(look, "figure-fill-1"))
    if look == "plate":
        hatch_rectangle(canvas, corner, width, height, gap=9, falling=True)
    if look == "cells":
        _draw_cells(canvas, corner, width, height)
    if look == "pile":
        _draw_pile(canvas, corner, width, height)
    canvas.rectangle(corner, width, height)


def _draw_cells(canvas: Canvas, corner: Point, width: float, height: float, gap: float = 7) -> None:
    """Draw the cells of foam as round dots in staggered rows."""
    dots = []
    for row in range(int((height - 2) / gap)):
        shift = gap / 2 * (row % 2)
        for column in range(int((width - 4 - shift) / gap) + 1):
            x, y = corner.x + 3 + shift + column * gap, corner.y + 5 + row * gap
            dots.append(f"M{trimmed(x)} {trimmed(y)}h0.01")
    if dots:
        canvas.path("".join(dots), "figure-accent", stroke_width=2.6, stroke_linecap="round")


def _draw_pile(
    canvas: Canvas, corner: Point, width: float, height: float, gap: float = 3.5
) -> None:
    """Draw fibres as slightly curled upright lines."""
    curl, half = min(2.0, height / 4), trimmed(height / 2)
    strands = []
    for count in range(1, int(width / gap)):
        start = f"M{trimmed(corner.x + count * gap)} {trimmed(corner.y)}"
        upper = f"q{trimmed(curl)} {trimmed(height / 4)} 0 {half}"
        strands.append(f"{start}{upper}q{trimmed(-curl)} {trimmed(height / 4)} 0 {half}")
    canvas.path("".join(strands), "figure-accent", stroke_width=0.8)


def _draw_width(canvas: Canvas, given: PadSection, bottom: float, units_per_mm: float) -> None:
    """Draw the axis, and the half width with the part that stands out past the plate."""
    canvas.line(
        Point(CENTRE, TOP - 22), Point(CENTRE, bottom), "figure-rule", stroke_dasharray="9 3 2 3"
    )
    rim, edge = (CENTRE + width / 2 * units_per_mm for width in (given.pad_mm, given.plate_mm))
    dimension(canvas, Point(CENTRE, TOP - 10), Point(edge, TOP - 10))
    dimension(canvas, Point(edge, TOP - 10), Point(rim, TOP - 10))
    words = f"half of the pad, {measured(given.pad_mm / 2, 'mm', 2)}"
    canvas.text(Point(CENTRE + 6, TOP - 18), words)


def margin_mm(given: PadSection) -> float:
    """Return how far the pad stands out past the plate, all round."""
    return (given.pad_mm - given.plate_mm) / 2


def _words(given: PadSection) -> list[str]:
    said = [
        f"Pad {measured(given.pad_mm, 'mm')} wide, plate {measured(given.plate_mm, 'mm')}: "
        f"the pad stands out {measured(margin_mm(given), 'mm', 2)} all round."
    ]
    if given.kind == "foam":
        half = measured(given.thickness_mm / 2, "mm", 2)
        said.append(f"Pressed to half its thickness the foam is {half}: go no further.")
    if given.hole_mm:
        said.append(f"Hole in the middle {measured(given.hole_mm, 'mm')} wide.")
    return said


def _alternative(given: PadSection) -> str:
    listed = "; ".join(
        f"{layer.name} {measured(layer.thickness_mm, 'mm')}" for layer in slices(given)
    )
    return (
        f"A {given.kind} pad {measured(given.pad_mm, 'mm')} wide, cut through the middle, "
        f"from the machine down to the panel: {listed}. {' '.join(_words(given))}"
    )


def _table(given: PadSection) -> FigureTable:
    rows = [
        (layer.name, written(layer.width_mm), written(layer.thickness_mm))
        for layer in slices(given)
    ]
    rows.append(("pad past the plate, all round", written(margin_mm(given), 2), "–"))
    if given.hole_mm:
        rows.append(("hole in the middle", written(given.hole_mm), "–"))
    return FigureTable(("layer", "width (mm)", "thickness (mm)"), tuple(rows))


KIND = FigureKind(
    "pad-section",
    "one half of a pad on its plate, cut through the middle",
    PadSection,
    draw_pad_section,
)
