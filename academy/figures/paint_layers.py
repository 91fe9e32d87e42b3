"""The paint on a metal panel, drawn to scale from the metal to the clear coat."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, Self

from pydantic import model_validator

from academy.figures.figure import Figure, FigureKind, FigureTable
from academy.figures.geometry import dimension, hatch_rectangle, round_length
from academy.figures.numerals import between, measured, written
from academy.figures.parameters import Parameters, choice, clash, number
from academy.figures.svg import Canvas, Point
from academy.figures.wording import Label, labels_beside, notes, notes_height

WIDTH = 320.0
STACK_HEIGHT = 200.0
METAL_HEIGHT = 26.0
LEFT, RIGHT, TOP = 64.0, 172.0, 12.0


class PaintLayers(Parameters):
    """Ranges of the layers; the defaults are usual factory paint."""

    clear_low_um: float = number(35, 5, 300, "um", "thinnest usual clear coat")
    clear_high_um: float = number(50, 5, 300, "um", "thickest usual clear coat")
    base_low_um: float = number(10, 5, 100, "um", "thinnest usual base coat")
    base_high_um: float = number(20, 5, 100, "um", "thickest usual base coat")
    primer_low_um: float = number(25, 5, 200, "um", "thinnest usual primer-surfacer")
    primer_high_um: float = number(40, 5, 200, "um", "thickest usual primer-surfacer")
    e_coat_low_um: float = number(15, 5, 60, "um", "thinnest usual e-coat")
    e_coat_high_um: float = number(25, 5, 60, "um", "thickest usual e-coat")
    removed_um: float = number(0, 0, 30, "um", "what polishing takes off; 0 draws none")
    substrate: Literal["steel", "aluminium"] = choice(
        "steel", ("steel", "aluminium"), "the metal underneath"
    )

    @model_validator(mode="after")
    def _in_order(self) -> Self:
        for layer in layers(self):
            if layer.low_um > layer.high_um:
                name = f"{layer.parameter}_low_um"
                raise clash(name, layer.low_um, f"at most {layer.parameter}_high_um")
        if self.removed_um > (self.clear_low_um + self.clear_high_um) / 2:
            raise clash("removed_um", self.removed_um, "at most the clear coat as drawn")
        return self


@dataclass(frozen=True, slots=True)
class Layer:
    """One layer of the paint and the class it is filled with."""

    name: str
    parameter: str
    low_um: float
    high_um: float
    kind: str

    @property
    def drawn_um(self) -> float:
        """Return the middle of the range."""
        return (self.low_um + self.high_um) / 2


def layers(given: PaintLayers) -> tuple[Layer, ...]:
    """Return the layers from the top down."""
    rows = (
        ("clear coat", "clear", given.clear_low_um, given.clear_high_um, "figure-fill-1"),
        ("base coat", "base", given.base_low_um, given.base_high_um, "figure-fill-4"),
        ("primer-surfacer", "primer", given.primer_low_um, given.primer_high_um, "figure-fill-2"),
        ("e-coat", "e_coat", given.e_coat_low_um, given.e_coat_high_um, "figure-fill-3"),
    )
    return tuple(Layer(*row) for row in rows)


def draw_paint_layers(given: PaintLayers) -> Figure:
    """Draw each layer at the middle of its range, all to one scale."""
    stack = layers(given)
    units_per_um = STACK_HEIGHT / _drawn_um(stack)
    words = _words(given, stack)
    foot = TOP + STACK_HEIGHT + METAL_HEIGHT + 14
    canvas = Canvas(WIDTH, foot + notes_height(words, WIDTH) + 6)
    labels = _draw_stack(canvas, stack, units_per_um)
    labels.append(_draw_metal(canvas, given.substrate))
    if given.removed_um:
        labels.insert(0, _draw_removed(canvas, given.removed_um, units_per_um))
    labels_beside(canvas, labels, RIGHT, RIGHT + 22, (0, foot - 6))
    _draw_scales(canvas, units_per_um)
    notes(canvas, Point(2, foot), words, WIDTH)
    return Figure(
        canvas.finished(), _alternative(given, stack), _table(given, stack), given.caption
    )


def _draw_stack(canvas: Canvas, stack: tuple[Layer, ...], units_per_um: float) -> list[Label]:
    labels = []
    y = TOP
    for layer in stack:
        height = layer.drawn_um * units_per_um
        canvas.rectangle(Point(LEFT, y), RIGHT - LEFT, height, layer.kind)
        canvas.rectangle(Point(LEFT, y), RIGHT - LEFT, height)
        reach = between(layer.low_um, layer.high_um, "µm")
        labels.append(Label(y + height / 2, (layer.name, reach)))
        y += height
    return labels


def _draw_metal(canvas: Canvas, substrate: str) -> Label:
    top = TOP + STACK_HEIGHT
    canvas.rectangle(Point(LEFT, top), RIGHT - LEFT, METAL_HEIGHT, "figure-soft")
    hatch_rectangle(canvas, Point(LEFT, top), RIGHT - LEFT, METAL_HEIGHT)
    canvas.line(Point(LEFT, top), Point(RIGHT, top), stroke_width=2)
    return Label(top + METAL_HEIGHT / 2, (substrate, "(cut off here)"))


def _draw_removed(canvas: Canvas, removed_um: float, units_per_um: float) -> Label:
    height = removed_um * units_per_um
    canvas.rectangle(Point(LEFT, TOP), RIGHT - LEFT, height, "figure-fill-6")
    return Label(TOP + height / 2, (f"{measured(removed_um, 'µm')} taken off",))


def _draw_scales(canvas: Canvas, units_per_um: float) -> None:
    length_um = round_length(STACK_HEIGHT / units_per_um / 4)
    bottom = TOP + STACK_HEIGHT
    dimension(canvas, Point(54, TOP), Point(54, bottom))
    dimension(canvas, Point(14, bottom - length_um * units_per_um), Point(14, bottom))
    canvas.text(Point(2, bottom + 16), measured(length_um, "µm"))
    canvas.text(Point(48, TOP + STACK_HEIGHT / 2), "all", "end")


def _words(given: PaintLayers, stack: tuple[Layer, ...]) -> list[str]:
    said = [
        f"A gauge reads all of it, down to the metal: {_total(stack)}.",
        "It cannot tell how much of that is clear coat.",
        f"Drawn at mid-range: {measured(_drawn_um(stack), 'µm')} in all.",
    ]
    if given.removed_um:
        said.insert(0, f"The strip at the top is {measured(given.removed_um, 'µm')}, to scale.")
    return said


def _drawn_um(stack: tuple[Layer, ...]) -> float:
    return sum(layer.drawn_um for layer in stack)


def _total(stack: tuple[Layer, ...]) -> str:
    low, high = sum(layer.low_um for layer in stack), sum(layer.high_um for layer in stack)
    return between(low, high, "µm")


def _alternative(given: PaintLayers, stack: tuple[Layer, ...]) -> str:
    listed = "; ".join(
        f"{layer.name} {between(layer.low_um, layer.high_um, 'µm')}, "
        f"drawn {measured(layer.drawn_um, 'µm', 2)}"
        for layer in stack
    )
    return (
        f"Section through the paint on {given.substrate}, to scale, from the top: {listed}. "
        f"{' '.join(_words(given, stack))}"
    )


def _table(given: PaintLayers, stack: tuple[Layer, ...]) -> FigureTable:
    rows = [
        (layer.name, written(layer.low_um), written(layer.high_um), written(layer.drawn_um, 2))
        for layer in stack
    ]
    lows, highs = sum(layer.low_um for layer in stack), sum(layer.high_um for layer in stack)
    rows.append(("as a gauge reads it", written(lows), written(highs), written(_drawn_um(stack))))
    if given.removed_um:
        taken = written(given.removed_um)
        rows.append(("taken off", taken, taken, taken))
    return FigureTable(("layer", "from (µm)", "to (µm)", "drawn (µm)"), tuple(rows))


KIND = FigureKind(
    "paint-layers",
    "the layers of paint on a metal panel, to scale",
    PaintLayers,
    draw_paint_layers,
)
