"""The paint layers are drawn to one scale, and the printed ranges are those given."""

from __future__ import annotations

import xml.etree.ElementTree as ET

import pytest

from academy.figures import check, draw
from academy.figures.paint_layers import STACK_HEIGHT, PaintLayers, layers

SVG = "{http://www.w3.org/2000/svg}"


def heights(svg: str) -> dict[str, float]:
    """Return the height of the first rectangle of each filling."""
    found: dict[str, float] = {}
    for rectangle in ET.fromstring(svg).iter(f"{SVG}rect"):
        found.setdefault(rectangle.attrib["class"], float(rectangle.attrib["height"]))
    return found


def test_layers_are_drawn_to_one_scale() -> None:
    drawn = heights(draw("paint-layers", {"removed_um": 2}).svg)
    # Middles of the default ranges: clear 42.5, base 15, primer 32.5, e-coat 20: 110 µm in all.
    units_per_um = STACK_HEIGHT / 110
    assert drawn["figure-fill-1"] == pytest.approx(42.5 * units_per_um, abs=0.01)
    assert drawn["figure-fill-4"] == pytest.approx(15 * units_per_um, abs=0.01)
    assert drawn["figure-fill-2"] == pytest.approx(32.5 * units_per_um, abs=0.01)
    assert drawn["figure-fill-3"] == pytest.approx(20 * units_per_um, abs=0.01)
    assert drawn["figure-fill-6"] == pytest.approx(2 * units_per_um, abs=0.01)


def test_the_scale_bar_is_as_long_as_it_says() -> None:
    svg = draw("paint-layers", {}).svg
    assert ">20\N{NO-BREAK SPACE}µm<" in svg
    bar = 20 * STACK_HEIGHT / 110
    foot = 12 + STACK_HEIGHT
    assert f"M14 {foot - bar:.2f} L14 {foot:.0f}" in svg


def test_the_total_is_what_a_gauge_reads() -> None:
    said = draw("paint-layers", {}).alternative_text
    assert "down to the metal: 85 to 135 µm" in said.replace("\N{NO-BREAK SPACE}", " ")


def test_layers_run_from_the_clear_coat_down_to_the_e_coat() -> None:
    names = [layer.name for layer in layers(PaintLayers())]
    assert names == ["clear coat", "base coat", "primer-surfacer", "e-coat"]


@pytest.mark.parametrize(
    ("given", "parameter"),
    [
        ({"clear_low_um": 60}, "clear_low_um"),
        ({"e_coat_low_um": 30}, "e_coat_low_um"),
        ({"removed_um": 30, "clear_low_um": 20, "clear_high_um": 30}, "removed_um"),
        ({"substrate": "plastic"}, "substrate"),
    ],
)
def test_a_range_the_wrong_way_round_or_more_taken_off_than_there_is_is_refused(
    given: dict[str, object], parameter: str
) -> None:
    assert [error.parameter for error in check("paint-layers", given)] == [parameter]
