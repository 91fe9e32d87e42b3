"""The chart prints the dew point and the margin of the conditions model."""

from __future__ import annotations

import pytest

from academy.domain.conditions.dew_point import dew_point_c
from academy.figures import draw
from academy.figures.dew_point_chart import DewPointChart, margin, needed_c


def plain(text: str) -> str:
    """Return text with ordinary spaces."""
    return text.replace("\N{NO-BREAK SPACE}", " ")


def test_twenty_degrees_and_sixty_percent_ask_for_a_panel_of_fifteen() -> None:
    figure = draw("dew-point-chart", {})
    assert dew_point_c(20, 60) == pytest.approx(12.0, abs=0.05)
    assert needed_c(DewPointChart()) == pytest.approx(dew_point_c(20, 60) + 3)
    assert "dew point 12 °C" in plain(figure.alternative_text)
    assert "only from 15 °C" in plain(figure.alternative_text)


@pytest.mark.parametrize(
    ("panel_c", "said"),
    [(17, "above the dew point, warm enough"), (14, "above the dew point, too cold: do not coat"),
     (5, "7 K below the dew point, too cold")],
)  # fmt: skip
def test_a_measured_panel_is_judged(panel_c: float, said: str) -> None:
    assert said in plain(draw("dew-point-chart", {"panel_c": panel_c}).alternative_text)


def test_without_a_panel_none_is_judged() -> None:
    assert margin(DewPointChart()) is None
    assert len(draw("dew-point-chart", {}).table.rows) == 4
    assert len(draw("dew-point-chart", {"panel_c": 17}).table.rows) == 6
