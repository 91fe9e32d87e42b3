"""The curves are those of the heat model, and the stops are reached when it says."""

from __future__ import annotations

import re

import pytest

from academy.domain.polishing.heat import rise_lumped_k
from academy.domain.polishing.materials import STEEL
from academy.figures import check, draw
from academy.figures.panel_heat import PanelHeat, flux_w_m2, panels, rise_k, stops_after_s


def test_steel_warms_evenly_and_plastic_fastest_at_the_start() -> None:
    given = PanelHeat()
    steel, plastic = panels(given)
    assert rise_k(given, steel, 10) == pytest.approx(
        rise_lumped_k(STEEL, flux_w_m2(given), 0.7, 10)
    )
    assert rise_k(given, steel, 10) == pytest.approx(2 * rise_k(given, steel, 5))
    assert rise_k(given, plastic, 1) > 4 * rise_k(given, steel, 1)


def test_a_stop_is_reached_when_the_curve_crosses_it() -> None:
    given = PanelHeat()
    for panel in panels(given):
        after_s = stops_after_s(given, panel)
        assert after_s is not None
        assert given.start_c + rise_k(given, panel, after_s) == pytest.approx(
            panel.stop_c, abs=0.01
        )


def test_a_panel_that_stays_cool_says_so() -> None:
    figure = draw("panel-heat", {"force_n": 5})
    assert "Steel stays below" in figure.alternative_text
    assert stops_after_s(PanelHeat(force_n=5), panels(PanelHeat())[0]) is None


def test_the_table_starts_cold_and_ends_at_the_printed_temperature() -> None:
    figure = draw("panel-heat", {"start_c": 15})
    assert figure.table.rows[0][1:] == ("15", "15")
    last = float(figure.table.rows[-1][1])
    assert re.search(rf"steel from 15.°C to {last:.0f}.°C", figure.alternative_text)


def test_a_time_far_beyond_the_life_of_paint_is_refused() -> None:
    given = {"force_n": 150, "pad_mm": 50, "throw_mm": 30, "friction": 0.8, "seconds": 60}
    error = check("panel-heat", given)[0]
    assert error.parameter == "seconds"
    assert "400 K" in error.allowed
