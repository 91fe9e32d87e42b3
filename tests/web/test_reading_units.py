"""A reader of US units reads them first; paint and the checked metric figures stay."""

from __future__ import annotations

import pytest

from academy.web.reading_units import System, in_system


def _quantity(text: str, unit: str, values: str) -> str:
    return f'<span class="quantity" data-fact="x" data-unit="{unit}" data-values="{values}">{text}</span>'


@pytest.mark.parametrize(
    ("text", "unit", "values", "says"),
    [
        # international yard and pound agreement 1959: 1 in = 25.4 mm, 1 ft = 0.3048 m (definitions)
        ("150 mm", "mm", "150", "5.91\N{NO-BREAK SPACE}in"),
        ("45 cm", "cm", "45", "18\N{NO-BREAK SPACE}in"),
        ("1.5 m", "m", "1.5", "4.9\N{NO-BREAK SPACE}ft"),
        ("4.62 m/s", "m/s", "4.62", "909\N{NO-BREAK SPACE}ft/min"),
        # water boils at 212 °F and 100 °C (definition of the scales)
        ("100 °C", "C", "100", "212\N{NO-BREAK SPACE}°F"),
        ("45 to 60 °C", "C", "45 60", "113 to 140\N{NO-BREAK SPACE}°F"),
        ("3 K", "K", "3", "5.4\N{NO-BREAK SPACE}°F"),
        # 1 lbf = 4.4482 N (computed from definitions)
        ("40 N", "N", "40", "9\N{NO-BREAK SPACE}lbf"),
    ],
)
def test_a_reader_of_us_units_sees_them_first(text: str, unit: str, values: str, says: str) -> None:
    shown = in_system(_quantity(text, unit, values), System.US)
    assert f">{says}<" in shown
    assert f"({text})" in shown


@pytest.mark.parametrize("unit", ["um", "percent", "rpm", "dB(A)", "min"])
def test_paint_and_units_both_systems_share_stay(unit: str) -> None:
    html = _quantity("3 things", unit, "3")
    assert in_system(html, System.US) == html


def test_a_metric_reader_sees_the_course_as_it_was_checked() -> None:
    html = _quantity("45 to 60 °C", "C", "45 60")
    assert in_system(html, System.METRIC) == html


def test_values_that_are_no_numbers_are_left_alone() -> None:
    html = _quantity("some °C", "C", "x")
    assert in_system(html, System.US) == html
