"""The pad is drawn from its dimensions, with one scale for both directions."""

from __future__ import annotations

import xml.etree.ElementTree as ET

import pytest

from academy.figures import check, draw
from academy.figures.pad_section import WIDEST, PadSection, margin_mm, slices

SVG = "{http://www.w3.org/2000/svg}"


def test_layers_add_up_to_plate_hooks_and_pad() -> None:
    for kind in ("foam", "wool", "microfibre", "hybrid"):
        layers = slices(PadSection.model_validate({"kind": kind}))
        assert sum(layer.thickness_mm for layer in layers) == pytest.approx(12 + 3 + 25)


def test_half_a_pad_is_drawn_to_one_scale_both_ways() -> None:
    rectangles = [
        element.attrib
        for element in ET.fromstring(draw("pad-section", {}).svg).iter(f"{SVG}rect")
        if element.attrib["class"] == "figure-fill-1"
    ]
    units_per_mm = WIDEST / 75
    assert len(rectangles) == 1
    assert float(rectangles[0]["width"]) == pytest.approx(75 * units_per_mm, abs=0.01)
    assert float(rectangles[0]["height"]) == pytest.approx(25 * units_per_mm, abs=0.01)


def test_the_pad_stands_out_past_the_plate_by_half_the_difference() -> None:
    assert margin_mm(PadSection(pad_mm=150, plate_mm=138)) == 6
    assert (
        "6\N{NO-BREAK SPACE}mm all round" in draw("pad-section", {"plate_mm": 138}).alternative_text
    )


def test_a_wool_pad_without_foam_says_nothing_of_pressing_foam() -> None:
    assert "foam" not in draw("pad-section", {"kind": "wool"}).alternative_text
    assert "12.5\N{NO-BREAK SPACE}mm" in draw("pad-section", {}).alternative_text


def test_a_pad_that_is_pile_all_through_has_no_foam_core() -> None:
    figure = draw("pad-section", {"kind": "hybrid", "thickness_mm": 20, "fibre_mm": 20})
    assert "foam core" not in figure.alternative_text


@pytest.mark.parametrize(
    ("given", "parameter"),
    [
        ({"plate_mm": 160}, "plate_mm"),
        ({"hole_mm": 40, "plate_mm": 75}, "hole_mm"),
        ({"kind": "microfibre", "fibre_mm": 30}, "fibre_mm"),
        ({"kind": "sponge"}, "kind"),
    ],
)
def test_parts_that_do_not_fit_together_are_refused(
    given: dict[str, object], parameter: str
) -> None:
    assert [error.parameter for error in check("pad-section", given)] == [parameter]
