"""What holds for every figure: it draws, quickly, safely, and refuses nonsense."""

from __future__ import annotations

import re
import time
import xml.etree.ElementTree as ET
from collections.abc import Iterator

import pytest
import yaml

from academy.figures import (
    NAMES,
    FigureError,
    FigureKind,
    UnknownFigure,
    UnknownParameter,
    check,
    draw,
)

SVG = "{http://www.w3.org/2000/svg}"
CLASSES = {
    "figure-ink", "figure-accent", "figure-soft", "figure-rule", "figure-text",
    *(f"figure-fill-{strength}" for strength in range(1, 7)),
}  # fmt: skip
ELEMENTS = {"svg", "rect", "circle", "path", "text"}
ATTRIBUTES = {
    "class", "cx", "cy", "d", "fill", "fill-opacity", "font-size", "height", "r", "role",
    "stroke", "stroke-dasharray", "stroke-linecap", "stroke-opacity", "stroke-width",
    "text-anchor", "viewBox", "width", "x", "y",
}  # fmt: skip


def extremes(kind: FigureKind) -> Iterator[dict[str, object]]:
    """Each parameter at its lowest and at its highest, and each choice, one at a time."""
    for taken in kind.parameters:
        ends = [end for end in (taken.low, taken.high) if end is not None]
        for value in (*ends, *taken.choices):
            yield {taken.name: value}


# What a list of values may be has no lowest and highest: a short, a long and a heavy day.
LISTS: dict[str, list[dict[str, object]]] = {
    "exposure-bar": [
        {"machines": "a", "magnitudes_m_s2": 0.1, "minutes": 1},
        {"machines": "a", "magnitudes_m_s2": 30, "minutes": 720},
        {
            "machines": ",".join(["a name of 16 let"] * 5),
            "magnitudes_m_s2": "10.55,11.25,12.45,13.35,14.15",
            "minutes": "120,120,120,120,120",
        },
    ]
}


def drawable(kind: FigureKind) -> Iterator[dict[str, object]]:
    """The defaults and every extreme that goes with them."""
    yield {}
    yield from (given for given in extremes(kind) if not check(kind.name, given))
    yield from LISTS.get(kind.name, [])


def elements(svg: str) -> list[ET.Element]:
    """Return every element of a drawing; fails when the XML is not well formed."""
    return list(ET.fromstring(svg).iter())


def printed(svg: str) -> list[str]:
    """Return the words printed in a drawing."""
    return [element.text or "" for element in elements(svg) if element.tag == f"{SVG}text"]


@pytest.mark.parametrize("name", NAMES)
def test_a_figure_draws_with_its_defaults_and_extremes_in_under_a_second(name: str) -> None:
    drawn = 0
    draw(name, {})  # the first one imports what it computes with
    for given in drawable(NAMES[name]):
        started = time.perf_counter()
        figure = draw(name, given)
        assert time.perf_counter() - started < 1.0, given
        assert figure.alternative_text
        assert figure.table.rows
        drawn += 1
    assert drawn > 1


@pytest.mark.parametrize("name", NAMES)
def test_an_extreme_that_is_refused_says_which_parameter_it_clashes_with(name: str) -> None:
    kind = NAMES[name]
    known = {taken.name for taken in kind.parameters}
    for given in extremes(kind):
        for error in check(name, given):
            assert error.parameter in known
            assert error.allowed


@pytest.mark.parametrize("name", NAMES)
def test_a_drawing_is_well_formed_and_holds_nothing_the_content_policy_forbids(name: str) -> None:
    for given in drawable(NAMES[name]):
        for element in elements(draw(name, given).svg):
            assert element.tag.removeprefix(SVG) in ELEMENTS
            assert set(element.attrib) <= ATTRIBUTES
            assert element.attrib.get("class", "figure-ink") in CLASSES


@pytest.mark.parametrize("name", NAMES)
def test_coordinates_are_numbers(name: str) -> None:
    for given in drawable(NAMES[name]):
        assert not re.search(
            r"nan|inf\b|e[-+]\d", re.sub(r"<text.*?</text>", "", draw(name, given).svg)
        )


@pytest.mark.parametrize("name", NAMES)
def test_text_is_large_enough_and_inside_the_drawing(name: str) -> None:
    for given in drawable(NAMES[name]):
        svg, *rest = elements(draw(name, given).svg)
        _, _, width, height = map(float, svg.attrib["viewBox"].split())
        assert 300 <= width <= 360
        for text in (element for element in rest if element.tag == f"{SVG}text"):
            size = float(text.attrib["font-size"])
            assert size >= 11
            # Half the size a letter is narrow: what sticks out by this is surely cut off.
            length = len(text.text or "") * size * 0.5
            left = float(text.attrib["x"])
            left -= {"start": 0.0, "middle": length / 2, "end": length}[text.attrib["text-anchor"]]
            assert left >= -1, text.text
            assert left + length <= width + 1, text.text
            assert size * 0.7 <= float(text.attrib["y"]) <= height, text.text


@pytest.mark.parametrize("name", NAMES)
def test_two_figures_on_one_page_do_not_clash(name: str) -> None:
    figure = draw(name, {})
    assert "id=" not in figure.svg
    assert "url(" not in figure.svg
    page = f"<div>{figure.svg}{figure.svg}</div>"
    assert len(ET.fromstring(page)) == 2


@pytest.mark.parametrize("name", NAMES)
def test_the_same_parameters_give_the_same_drawing(name: str) -> None:
    assert draw(name, {}) == draw(name, {})


@pytest.mark.parametrize("name", NAMES)
def test_numbers_in_the_table_stand_in_the_alternative_text_or_the_drawing(name: str) -> None:
    figure = draw(name, {})
    said = " ".join((figure.alternative_text, *printed(figure.svg)))
    cells = [cell for row in figure.table.rows for cell in row[1:]]
    numbers = [number for cell in cells for number in re.findall(r"\d+(?:\.\d+)?", cell)]
    assert numbers
    known = set(re.findall(r"\d+(?:\.\d+)?", said))
    assert [number for number in numbers if number not in known] == []


@pytest.mark.parametrize("name", NAMES)
def test_every_parameter_has_a_description_and_says_what_is_allowed(name: str) -> None:
    for taken in NAMES[name].parameters:
        assert taken.says
        assert taken.allowed
        if taken.low is not None and isinstance(taken.default, int | float):
            assert taken.high is not None
            assert taken.low <= taken.default <= taken.high


@pytest.mark.parametrize("name", NAMES)
def test_a_caption_is_passed_on_and_never_drawn(name: str) -> None:
    figure = draw(name, {"caption": "What to <see> & why"})
    assert figure.caption == "What to <see> & why"
    assert "What to" not in figure.svg
    assert draw(name, {}).caption == ""


@pytest.mark.parametrize("name", NAMES)
def test_a_parameter_out_of_its_range_is_refused_with_what_is_allowed(name: str) -> None:
    numbered = [taken for taken in NAMES[name].parameters if taken.low is not None]
    for taken in numbered:
        assert taken.low is not None
        assert taken.high is not None
        for value in (taken.low - 1, taken.high + 1, "many", True, float("nan"), [1], "1,5"):
            error = check(name, {taken.name: value})[0]
            assert error.parameter == taken.name
            assert error.given == str(value)
            assert error.allowed == taken.allowed


def test_a_refusal_is_a_sentence_with_the_parameter_what_was_given_and_what_is_allowed() -> None:
    with pytest.raises(FigureError) as refused:
        draw("orbit-trace", {"throw_mm": 400})
    assert str(refused.value) == "orbit-trace: throw_mm: 400 is not allowed; allowed: 1 to 30 mm"


def test_an_unknown_parameter_is_named_with_the_ones_there_are() -> None:
    with pytest.raises(UnknownParameter, match=r"no parameter is called throw .*throw_mm"):
        draw("orbit-trace", {"throw": 15})


def test_an_unknown_figure_is_named_with_the_ones_there_are() -> None:
    with pytest.raises(UnknownFigure, match=r"no figure is called orbit; .*orbit-trace"):
        draw("orbit", {})


def test_a_name_that_is_no_word_is_an_unknown_parameter() -> None:
    unnamed: dict[str, object] = yaml.safe_load("1: 2")
    (error,) = check("orbit-trace", unnamed)
    assert isinstance(error, UnknownParameter)
    assert error.parameter == "1"


def test_every_fault_of_a_figure_is_found_at_once() -> None:
    faults = check("orbit-trace", {"throw_mm": -1, "spin": 5, "orbits": 2.5})
    assert [fault.parameter for fault in faults] == ["throw_mm", "orbits", "spin"]


def test_a_number_written_as_text_is_read() -> None:
    assert draw("orbit-trace", {"throw_mm": "21"}) == draw("orbit-trace", {"throw_mm": 21})


def test_text_that_is_not_a_number_of_reasonable_length_is_shortened_in_the_refusal() -> None:
    error = check("orbit-trace", {"throw_mm": "x" * 500})[0]
    assert error.given == "x" * 57 + "..."
