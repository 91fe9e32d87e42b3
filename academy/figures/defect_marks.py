"""The marks of each paint defect as geometry: spread evenly, the same every time."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from academy.figures.geometry import disc_points
from academy.figures.svg import Point, polar

# Steps of an even spread over a square: powers of the inverse plastic number
# (the additive sequence R2, from memory); no chance is involved.
STEP_ACROSS, STEP_DOWN, STEP_ROUND = 0.7548776662466927, 0.5698402909980532, 0.6180339887498949
SCRATCH_LENGTH = 11.0
# A fine scratch throws light only across itself: it shines where it runs within
# this angle of the circle around the light.
SHINES_WITHIN = math.radians(18)


@dataclass(frozen=True, slots=True)
class Tile:
    """A square look at the panel, and where the light stands in it."""

    corner: Point
    width: float
    height: float
    light: Point

    def holds(self, point: Point, margin: float = 1.0) -> bool:
        """Say whether a point lies inside."""
        across, down = point.x - self.corner.x, point.y - self.corner.y
        return margin <= across <= self.width - margin and margin <= down <= self.height - margin


@dataclass(frozen=True, slots=True)
class Scratch:
    """A straight fine scratch."""

    start: Point
    end: Point
    shines: bool


def scratches(tile: Tile, count: int) -> list[Scratch]:
    """Return wash scratches in every direction, and which of them the light brings out."""
    found = []
    for number in range(1, count + 1):
        across, down = number * STEP_ACROSS % 1, number * STEP_DOWN % 1
        middle = Point(tile.corner.x + across * tile.width, tile.corner.y + down * tile.height)
        angle = math.pi * (number * STEP_ROUND % 1)
        ends = (polar(middle, SCRATCH_LENGTH / 2, angle), polar(middle, -SCRATCH_LENGTH / 2, angle))
        if all(tile.holds(end) for end in ends):
            found.append(Scratch(*ends, shines=_shines(middle, angle, tile.light)))
    return found


def _shines(middle: Point, angle: float, light: Point) -> bool:
    around = math.atan2(-(middle.y - light.y), middle.x - light.x) + math.pi / 2
    off = (angle - around) % math.pi
    return min(off, math.pi - off) < SHINES_WITHIN


def trails(tile: Tile, count: int = 5, lines: int = 4) -> list[list[Point]]:
    """Return a rotary's trails: bundles of arcs as wide as the pad, side by side."""
    radius = tile.height * 0.7
    found = []
    for bundle in range(count):
        for line in range(lines):
            share = (bundle + 0.5) / count
            middle = Point(
                tile.corner.x + share * tile.width - radius + line * 3.5,
                tile.corner.y + tile.height / 2,
            )
            angles = (math.pi * (step / 40 - 0.5) for step in range(41))
            found += inside(tile, [polar(middle, radius, angle) for angle in angles])
    return found


def inside(tile: Tile, points: Sequence[Point]) -> list[list[Point]]:
    """Cut a line down to the runs that lie in the tile."""
    runs: list[list[Point]] = [[]]
    for point in points:
        if tile.holds(point):
            runs[-1].append(point)
        elif runs[-1]:
            runs.append([])
    return [run for run in runs if len(run) > 1]


def ring_of_haze(tile: Tile, count: int = 240) -> list[Point]:
    """Return dots that lie thicker the nearer they are to the light."""
    reach = tile.height * 0.62
    places = (
        polar(tile.light, 14 + reach * share**1.7, angle) for share, angle in disc_points(count)
    )
    return [place for place in places if tile.holds(place)]


def even_haze(tile: Tile, count: int = 130) -> list[Point]:
    """Return dots spread evenly over the tile."""
    places = (
        Point(
            tile.corner.x + number * STEP_ACROSS % 1 * tile.width,
            tile.corner.y + number * STEP_DOWN % 1 * tile.height,
        )
        for number in range(1, count + 1)
    )
    return [place for place in places if tile.holds(place, 3)]


@dataclass(frozen=True, slots=True)
class Ring:
    """An etched water spot: its rim and the dull floor within."""

    middle: Point
    radius: float


def etched_rings(tile: Tile) -> list[Ring]:
    """Return four etched spots of different size."""
    places = ((0.2, 0.3, 13.0), (0.72, 0.68, 15.0), (0.3, 0.76, 9.0), (0.86, 0.24, 8.0))
    return [
        Ring(Point(tile.corner.x + x * tile.width, tile.corner.y + y * tile.height), radius)
        for x, y, radius in places
    ]
