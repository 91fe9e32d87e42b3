"""Spots lie inside the section, away from its edges, in reading order."""

from __future__ import annotations

import pytest

from academy.figures import check, draw
from academy.figures.spot_grid import MOST, SpotGrid, spots_of


@pytest.mark.parametrize("count", range(1, MOST + 1))
def test_every_spot_keeps_its_distance_from_the_edges(count: int) -> None:
    given = SpotGrid(spots=count, section_width_mm=500, section_height_mm=300, edge_mm=30)
    spots = spots_of(given)
    assert [spot.number for spot in spots] == list(range(1, count + 1))
    for spot in spots:
        assert 30 <= spot.from_left_mm <= 470
        assert 30 <= spot.from_top_mm <= 270


@pytest.mark.parametrize("count", range(2, MOST + 1))
def test_no_two_spots_share_a_four_centimetre_circle(count: int) -> None:
    spots = spots_of(SpotGrid(spots=count))
    for spot in spots:
        for other in spots[spot.number :]:
            across = spot.from_left_mm - other.from_left_mm
            down = spot.from_top_mm - other.from_top_mm
            assert across**2 + down**2 > 40**2


def test_five_spots_are_the_corners_and_the_middle() -> None:
    places = [(spot.from_left_mm, spot.from_top_mm) for spot in spots_of(SpotGrid())]
    assert places == [(30, 30), (420, 30), (225, 225), (30, 420), (420, 420)]


def test_the_table_and_the_drawing_name_every_spot() -> None:
    figure = draw("spot-grid", {"spots": 8})
    assert [row[0] for row in figure.table.rows] == list("12345678")
    assert all(f">{number}</text>" in figure.svg for number in range(1, 9))


@pytest.mark.parametrize(
    ("given", "parameter"),
    [
        ({"edge_mm": 150, "section_height_mm": 300}, "edge_mm"),
        ({"section_width_mm": 1000, "section_height_mm": 300}, "section_width_mm"),
        ({"spots": 0}, "spots"),
        ({"spots": "five"}, "spots"),
    ],
)
def test_a_section_without_room_for_its_spots_is_refused(
    given: dict[str, object], parameter: str
) -> None:
    assert check("spot-grid", given)[0].parameter == parameter
