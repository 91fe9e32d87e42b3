"""The same marks are drawn every time, and the light decides which of them shine."""

from __future__ import annotations

import math

import pytest

from academy.figures import check, draw
from academy.figures.defect_marks import (
    SHINES_WITHIN,
    Tile,
    etched_rings,
    even_haze,
    ring_of_haze,
    scratches,
    trails,
)
from academy.figures.svg import Point


def tile(light: Point) -> Tile:
    """Return a tile with its light somewhere."""
    return Tile(Point(0, 0), 152, 112, light)


def test_only_scratches_that_run_around_the_light_shine() -> None:
    light = Point(60, 50)
    for scratch in scratches(tile(light), 400):
        along = math.atan2(scratch.end.y - scratch.start.y, scratch.end.x - scratch.start.x)
        middle = Point((scratch.start.x + scratch.end.x) / 2, (scratch.start.y + scratch.end.y) / 2)
        outward = math.atan2(middle.y - light.y, middle.x - light.x)
        # A scratch around the light lies across the line to the light: their cosine is near nought.
        across = abs(math.cos(along - outward))
        assert scratch.shines == (across < math.sin(SHINES_WITHIN))


def test_moving_the_light_leaves_the_scratches_and_lights_others() -> None:
    here, there = (scratches(tile(Point(x, 50)), 400) for x in (40, 110))
    assert [(one.start, one.end) for one in here] == [(one.start, one.end) for one in there]
    assert [one.shines for one in here] != [one.shines for one in there]


def test_about_a_fifth_of_the_scratches_shine() -> None:
    found = scratches(tile(Point(76, 50)), 800)
    share = sum(scratch.shines for scratch in found) / len(found)
    assert share == pytest.approx(2 * SHINES_WITHIN / math.pi, abs=0.05)


def test_every_mark_lies_on_its_panel() -> None:
    for light in (Point(23, 22), Point(129, 90)):
        here = tile(light)
        places = [*ring_of_haze(here), *even_haze(here)]
        places += [point for run in trails(here) for point in run]
        assert all(here.holds(place) for place in places)
        for ring in etched_rings(here):
            assert here.holds(ring.middle, ring.radius)


def test_haze_lies_thicker_near_the_light() -> None:
    light = Point(76, 56)
    near = [math.dist((dot.x, dot.y), (76, 56)) < 45 for dot in ring_of_haze(tile(light))]
    # The ring from 14 to 45 units takes about a third of the tile.
    ring_share = math.pi * (45**2 - 14**2) / (152 * 112)
    assert sum(near) / len(near) > 1.3 * ring_share


def test_swirls_and_holograms_hide_in_diffuse_light_and_a_scratch_does_not() -> None:
    seen = {row[0]: row[3:] for row in draw("defects-under-light", {}).table.rows}
    assert list(seen) == ["swirls", "isolated scratch", "holograms", "haze", "water-spot etching"]
    assert int(seen["swirls"][0]) > 40
    assert seen["swirls"][1] == seen["holograms"][1] == "0"
    assert seen["isolated scratch"] == ("1", "1")
    assert seen["water-spot etching"] == ("4", "4")


def test_one_defect_can_be_drawn_alone() -> None:
    figure = draw("defects-under-light", {"defect": "haze"})
    assert ">haze<" in figure.svg
    assert ">swirls<" not in figure.svg


def test_a_defect_nobody_knows_is_refused() -> None:
    assert check("defects-under-light", {"defect": "rust"})[0].given == "rust"
