"""The bar shows the shop's own budget rule, with equality allowed."""

from __future__ import annotations

import xml.etree.ElementTree as ET

import pytest

from academy.domain.metrology.budget import PlannedStep, may_cut_again
from academy.figures import draw
from academy.figures.removal_budget_bar import RemovalBudgetBar, counted

SVG = "{http://www.w3.org/2000/svg}"


def values(rows: tuple[tuple[str, ...], ...]) -> dict[str, str]:
    """Return a two-column table as a mapping."""
    return {row[0]: row[1] for row in rows}


@pytest.mark.parametrize(("now_um", "fits"), [(107, True), (106, False), (112, True), (113, True)])
def test_the_verdict_is_that_of_the_budget_rule(now_um: float, fits: bool) -> None:
    figure = draw("removal-budget-bar", {"now_um": now_um})
    assert may_cut_again(112, now_um, PlannedStep(2, 1)).allowed is fits
    assert ("The step fits." in figure.svg) is fits
    assert ("do not cut" in figure.alternative_text) is not fits


def test_a_thin_spot_refuses_though_the_cap_has_room() -> None:
    given = {"baseline_um": 90, "now_um": 90, "thinnest_um": 82}
    figure = draw("removal-budget-bar", given)
    assert "do not cut" in figure.svg
    assert values(figure.table.rows)["thinnest spot after the step, at worst"] == "79"


def test_a_known_thin_clear_coat_lowers_the_cap_to_a_quarter_of_it() -> None:
    assert counted(RemovalBudgetBar(clear_um=20)).cap_um == 5
    assert counted(RemovalBudgetBar(clear_um=40)).cap_um == 8


def test_a_reading_above_the_baseline_gives_no_paint_back() -> None:
    assert counted(RemovalBudgetBar(now_um=115)).used_um == 0


def test_used_and_planned_are_drawn_to_one_scale() -> None:
    svg = ET.fromstring(draw("removal-budget-bar", {}).svg)
    outlines = [
        float(element.attrib["width"])
        for element in svg.iter(f"{SVG}rect")
        if element.attrib["class"] == "figure-ink"
    ]
    used, planned = outlines[:2]
    assert used / planned == pytest.approx(5 / 2, rel=1e-3)


def test_the_arithmetic_is_printed() -> None:
    words = draw("removal-budget-bar", {}).svg.replace("\N{NO-BREAK SPACE}", " ")
    assert "Worst: 5 + 2 + 1 = 8 µm off; cap 8 µm." in words
    assert "Worst: 107 − 2 − 1 = 104 µm left; floor 80 µm." in words
