"""What a point light and a diffuse light show of the same defect, side by side."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from typing import Literal

from academy.figures.defect_marks import (
    Tile,
    etched_rings,
    even_haze,
    ring_of_haze,
    scratches,
    trails,
)
from academy.figures.figure import Figure, FigureKind, FigureTable
from academy.figures.geometry import hatch_between
from academy.figures.numerals import written
from academy.figures.parameters import Parameters, choice, number, whole
from academy.figures.svg import Canvas, Point, polar, through, trimmed
from academy.figures.wording import LINE, notes, notes_height, room_for

WIDTH = 320.0
TILE_WIDTH, TILE_HEIGHT = 152.0, 112.0
COLUMNS = (2.0, 166.0)
HEAD = 22.0

Defect = Literal["all", "swirls", "isolated scratch", "holograms", "haze", "water-spot etching"]


class DefectsUnderLight(Parameters):
    """Which defect, and where the lamp's reflection stands."""

    defect: Defect = choice(
        "all",
        ("all", "swirls", "isolated scratch", "holograms", "haze", "water-spot etching"),
        "one defect, or all of them under one another",
    )
    light_from_left_percent: float = number(
        50, 15, 85, "%", "where the point light's reflection is, of the width"
    )
    light_from_top_percent: float = number(
        45, 20, 80, "%", "where the point light's reflection is, of the height"
    )
    scratches: int = whole(420, 100, 800, "fine scratches that make up the swirls")


@dataclass(frozen=True, slots=True)
class Look:
    """How one defect is drawn under both lights, and what to say of it."""

    point_words: str
    diffuse_words: str
    draw_point: Callable[[Canvas, Tile, DefectsUnderLight], int]
    draw_diffuse: Callable[[Canvas, Tile, DefectsUnderLight], int]


@dataclass(frozen=True, slots=True)
class Seen:
    """How many marks each light brought out."""

    defect: str
    under_point: int
    under_diffuse: int


def draw_defects_under_light(given: DefectsUnderLight) -> Figure:
    """Draw a tile for each light and defect."""
    names = [given.defect] if given.defect != "all" else list(LOOKS)
    words = ["The same panel both times. Look under both lights, and move the light."]
    heights = [_block_height(LOOKS[name]) for name in names]
    canvas = Canvas(WIDTH, HEAD + sum(heights) + notes_height(words, WIDTH) + 8)
    for column, name in zip(COLUMNS, ("point light", "diffuse light"), strict=True):
        canvas.text(Point(column + TILE_WIDTH / 2, 13), name, "middle")
    seen = []
    top = HEAD
    for name, height in zip(names, heights, strict=True):
        seen.append(_draw_block(canvas, given, name, top))
        top += height
    notes(canvas, Point(2, top), words, WIDTH)
    return Figure(canvas.finished(), _alternative(given, seen), _table(seen), given.caption)


def _block_height(look: Look) -> float:
    lines = max(len(_lines(look.point_words)), len(_lines(look.diffuse_words)))
    return LINE + TILE_HEIGHT + LINE * lines + 14


def _lines(words: str) -> list[str]:
    return room_for([words], TILE_WIDTH - 4)


def _draw_block(canvas: Canvas, given: DefectsUnderLight, name: str, top: float) -> Seen:
    look = LOOKS[name]
    canvas.text(Point(COLUMNS[0], top + 12), name, size=13)
    canvas.line(
        Point(COLUMNS[0] + 8.4 * len(name) + 2, top + 8), Point(318, top + 8), "figure-rule"
    )
    point, diffuse = (_tile(given, column, top + LINE + 3) for column in COLUMNS)
    _draw_ground(canvas, point)
    _draw_lamp(canvas, point)
    under_point = look.draw_point(canvas, point, given)
    _draw_ground(canvas, diffuse)
    _draw_screen(canvas, diffuse)
    under_diffuse = look.draw_diffuse(canvas, diffuse, given)
    for column, words in zip(COLUMNS, (look.point_words, look.diffuse_words), strict=True):
        canvas.lines(Point(column, top + LINE + TILE_HEIGHT + 18), _lines(words), step=LINE)
    return Seen(name, under_point, under_diffuse)


def _tile(given: DefectsUnderLight, left: float, top: float) -> Tile:
    light = Point(
        left + TILE_WIDTH * given.light_from_left_percent / 100,
        top + TILE_HEIGHT * given.light_from_top_percent / 100,
    )
    return Tile(Point(left, top), TILE_WIDTH, TILE_HEIGHT, light)


def _draw_ground(canvas: Canvas, tile: Tile) -> None:
    canvas.rectangle(tile.corner, tile.width, tile.height, "figure-soft")
    canvas.rectangle(tile.corner, tile.width, tile.height)


def _draw_lamp(canvas: Canvas, tile: Tile) -> None:
    canvas.circle(tile.light, 7, "figure-fill-1")
    canvas.circle(tile.light, 7, "figure-ink", stroke_width=1.4)
    for step in range(8):
        angle = step * math.pi / 4
        canvas.line(polar(tile.light, 9.5, angle), polar(tile.light, 13.5, angle))


def _draw_screen(canvas: Canvas, tile: Tile) -> None:
    corner = Point(tile.corner.x + 16, tile.corner.y + 14)
    canvas.rectangle(corner, tile.width - 32, tile.height - 28, "figure-fill-1")


def _draw_swirls(canvas: Canvas, tile: Tile, given: DefectsUnderLight) -> int:
    shining = [scratch for scratch in scratches(tile, given.scratches) if scratch.shines]
    lines = " ".join(through((scratch.start, scratch.end)) for scratch in shining)
    canvas.path(lines or "M0 0", "figure-accent")
    return len(shining)


def _draw_scratch(canvas: Canvas, tile: Tile, _given: DefectsUnderLight) -> int:
    canvas.line(*_scratch_ends(tile), "figure-accent", stroke_width=2)
    return 1


def _draw_faint_scratch(canvas: Canvas, tile: Tile, _given: DefectsUnderLight) -> int:
    canvas.line(*_scratch_ends(tile), "figure-accent", stroke_width=0.8)
    return 1


def _scratch_ends(tile: Tile) -> tuple[Point, Point]:
    x, y = tile.corner.x, tile.corner.y
    return Point(x + 0.1 * tile.width, y + 0.82 * tile.height), Point(
        x + 0.8 * tile.width, y + 0.66 * tile.height
    )


def _draw_trails(canvas: Canvas, tile: Tile, _given: DefectsUnderLight) -> int:
    found = trails(tile)
    canvas.path(" ".join(through(run) for run in found), "figure-accent", stroke_width=0.9)
    return len(found)


def _draw_haze_ring(canvas: Canvas, tile: Tile, _given: DefectsUnderLight) -> int:
    return _draw_dots(canvas, ring_of_haze(tile), 1.8)


def _draw_even_haze(canvas: Canvas, tile: Tile, _given: DefectsUnderLight) -> int:
    return _draw_dots(canvas, even_haze(tile), 1.1)


def _draw_dots(canvas: Canvas, places: list[Point], width: float) -> int:
    data = "".join(f"M{trimmed(place.x)} {trimmed(place.y)}h0.01" for place in places)
    canvas.path(data, "figure-accent", stroke_width=width, stroke_linecap="round")
    return len(places)


def _draw_rings(canvas: Canvas, tile: Tile, _given: DefectsUnderLight) -> int:
    found = etched_rings(tile)
    for ring in found:
        canvas.circle(ring.middle, ring.radius, "figure-accent", stroke_width=1.8)
        canvas.circle(ring.middle, ring.radius - 3, "figure-accent", stroke_width=0.8)
    return len(found)


def _draw_dull_rings(canvas: Canvas, tile: Tile, _given: DefectsUnderLight) -> int:
    found = etched_rings(tile)
    for ring in found:
        low, high = ring.middle.x - ring.radius, ring.middle.x + ring.radius
        hatch_between(canvas, low, high, _within(ring.middle, ring.radius), gap=3)
        canvas.circle(ring.middle, ring.radius, "figure-accent", stroke_width=1)
    return len(found)


def _within(middle: Point, radius: float) -> Callable[[float], tuple[float, float]]:
    def edges(x: float) -> tuple[float, float]:
        half = math.sqrt(max(0.0, radius**2 - (x - middle.x) ** 2))
        return middle.y - half, middle.y + half

    return edges


def _draw_none(_canvas: Canvas, _tile: Tile, _given: DefectsUnderLight) -> int:
    return 0


LOOKS = {
    "swirls": Look(
        "arcs around the light; they go where it goes", "hidden", _draw_swirls, _draw_none
    ),
    "isolated scratch": Look(
        "one bright straight line", "still there, fainter", _draw_scratch, _draw_faint_scratch
    ),
    "holograms": Look("bands along the machine's way", "hidden or faint", _draw_trails, _draw_none),
    "haze": Look(
        "a milky ring around the light", "a little grey all over", _draw_haze_ring, _draw_even_haze
    ),
    "water-spot etching": Look(
        "rings with a sharp rim", "dull spots, washing leaves them", _draw_rings, _draw_dull_rings
    ),
}


def _alternative(given: DefectsUnderLight, seen: list[Seen]) -> str:
    listed = " ".join(
        f"{found.defect.capitalize()}: under the point light {LOOKS[found.defect].point_words} "
        f"({found.under_point} marks drawn); under the diffuse light "
        f"{LOOKS[found.defect].diffuse_words} ({found.under_diffuse} drawn)."
        for found in seen
    )
    return (
        f"Sketches of a panel under a point light, {written(given.light_from_left_percent)} % from "
        f"the left and {written(given.light_from_top_percent)} % from the top, and under a "
        f"diffuse light. {listed}"
    )


def _table(seen: list[Seen]) -> FigureTable:
    rows = tuple(
        (
            found.defect,
            LOOKS[found.defect].point_words,
            LOOKS[found.defect].diffuse_words,
            str(found.under_point),
            str(found.under_diffuse),
        )
        for found in seen
    )
    columns = (
        "defect",
        "under a point light",
        "under a diffuse light",
        "marks drawn, point light",
        "marks drawn, diffuse light",
    )
    return FigureTable(columns, rows)


KIND = FigureKind(
    "defects-under-light",
    "what a point light and a diffuse light show of the same defect",
    DefectsUnderLight,
    draw_defects_under_light,
)
