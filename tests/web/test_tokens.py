"""The colours of the site keep the contrast that a workshop's glare asks for."""

from __future__ import annotations

import re
from itertools import product

import pytest

from academy.settings import PROJECT

SHEET = (PROJECT / "academy" / "web" / "static" / "css" / "tokens.css").read_text(encoding="utf-8")
PAIR = re.compile(r"--([\w-]+): light-dark\((#[0-9a-f]{6}), (#[0-9a-f]{6})\)")
PLAIN = re.compile(r"--([\w-]+): (#[0-9a-f]{6});")

COLOURS = {
    "light": {name: light for name, light, _dark in PAIR.findall(SHEET)},
    "dark": {name: dark for name, _light, dark in PAIR.findall(SHEET)},
}
TEXTS = ("ink", "quiet", "accent")
GROUNDS = ("paper", "sheet", "shade", "soft")
RAMP = tuple(f"ramp-{step}" for step in range(1, 7))


def luminance(colour: str) -> float:
    """Return the relative luminance as WCAG 2.2 defines it."""
    parts = [int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5)]
    red, green, blue = (
        part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts
    )
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str) -> float:
    """Return the contrast ratio as WCAG 2.2 defines it."""
    darker, lighter = sorted((luminance(one), luminance(other)))
    return (lighter + 0.05) / (darker + 0.05)


def test_black_on_white_is_twenty_one_to_one() -> None:
    assert contrast("#000000", "#ffffff") == pytest.approx(21)
    assert contrast("#777777", "#ffffff") == pytest.approx(4.48, abs=0.005)


@pytest.mark.parametrize("light", ["light", "dark"])
@pytest.mark.parametrize(("text", "ground"), list(product(TEXTS, GROUNDS)))
def test_text_stands_seven_to_one_on_every_ground(light: str, text: str, ground: str) -> None:
    assert contrast(COLOURS[light][text], COLOURS[light][ground]) >= 7


@pytest.mark.parametrize("light", ["light", "dark"])
@pytest.mark.parametrize("step", RAMP)
def test_a_number_stands_seven_to_one_on_every_shade(light: str, step: str) -> None:
    assert contrast(COLOURS[light]["ink"], COLOURS[light][step]) >= 7


@pytest.mark.parametrize("light", ["light", "dark"])
def test_each_shade_differs_from_the_one_before_in_the_same_direction(light: str) -> None:
    values = [luminance(COLOURS[light][step]) for step in RAMP]
    assert values == sorted(values, reverse=light == "light")
    assert len(set(values)) == len(RAMP)


@pytest.mark.parametrize("light", ["light", "dark"])
@pytest.mark.parametrize("ground", GROUNDS)
def test_the_edge_of_a_control_stands_three_to_one(light: str, ground: str) -> None:
    assert contrast(COLOURS[light]["edge"], COLOURS[light][ground]) >= 3


@pytest.mark.parametrize("light", ["light", "dark"])
def test_the_words_on_a_button_stand_seven_to_one(light: str) -> None:
    assert contrast(COLOURS[light]["on-accent"], COLOURS[light]["accent"]) >= 7


def test_an_older_browser_gets_the_colours_of_the_light() -> None:
    plain = dict(PLAIN.findall(SHEET))
    assert {name: plain[name] for name in COLOURS["light"]} == COLOURS["light"]
