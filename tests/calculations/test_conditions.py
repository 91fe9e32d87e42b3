"""Dew point and dilution as calculations."""

from __future__ import annotations

import pytest

from academy.calculations import BadInput, run


def test_the_dew_point_alone_judges_no_panel() -> None:
    assert run("dew-point", {"air_c": 20, "rh_percent": 60}).result == {
        "dew_point_c": pytest.approx(11.999894615745436),
        "margin_k": None,
        "panel_ok": None,
    }


@pytest.mark.parametrize(("panel_c", "ok"), [(15.5, True), (15.0, True), (14.9, False), (5, False)])
def test_a_panel_needs_three_kelvin(panel_c: float, ok: bool) -> None:
    inputs = {"air_c": 20, "rh_percent": 60, "panel_c": panel_c}
    result = run("dew-point", inputs).result

    assert result["margin_k"] == pytest.approx(panel_c - 11.999894615745436)
    assert result["panel_ok"] is ok


def test_a_ratio_gives_a_percentage() -> None:
    assert run("dilution", {"ratio": 10}).result == {
        "percent": pytest.approx(9.090909090909092),
        "stock_ml": None,
        "water_ml": None,
    }


def test_a_strength_gives_stock_and_water() -> None:
    inputs = {"stock_percent": 99, "target_percent": 15, "volume_ml": 1000}

    assert run("dilution", inputs).result == {
        "percent": None,
        "stock_ml": pytest.approx(151.5151515151515),
        "water_ml": pytest.approx(848.4848484848485),
    }


@pytest.mark.parametrize(
    ("name", "inputs", "fault"),
    [
        ("dew-point", {"air_c": 20, "rh_percent": 0}, "rh_percent: 0 is not at least 0.1"),
        ("dew-point", {"air_c": 20, "rh_percent": 101}, "rh_percent: 101 is not at most 100"),
        ("dew-point", {"air_c": 293, "rh_percent": 50}, "air_c: 293 is not at most 60"),
        ("dew-point", {"air_c": "20 °C", "rh_percent": 50}, 'air_c: "20 °C" is not a number'),
        (
            "dilution",
            {},
            "ratio: missing; give ratio (0 or more), or stock_percent, target_percent and volume_ml",
        ),
        (
            "dilution",
            {"ratio": 10, "volume_ml": 1000},
            "volume_ml: give ratio alone, or stock_percent, target_percent and volume_ml without it",
        ),
        (
            "dilution",
            {"stock_percent": 99, "volume_ml": 1000},
            "target_percent: missing; stock_percent, target_percent and volume_ml go together",
        ),
        (
            "dilution",
            {"stock_percent": 10, "target_percent": 15, "volume_ml": 1000},
            "target_percent: 15 is not at most 10, the stock's strength",
        ),
        ("dilution", {"ratio": -1}, "ratio: -1 is not at least 0"),
    ],
)
def test_nonsense_is_refused_by_field_and_range(
    name: str, inputs: dict[str, object], fault: str
) -> None:
    with pytest.raises(BadInput) as refused:
        run(name, inputs)

    assert refused.value.faults == (fault,)


@pytest.mark.parametrize(
    "name",
    [
        "machine-speed",
        "dwell",
        "contact-pressure",
        "removal-ratio",
        "panel-heat",
        "late-reading",
        "dew-point",
        "dilution",
        "vibration",
        "noise",
    ],
)
def test_every_calculation_defers_to_sheets_rules_and_qualified_people(name: str) -> None:
    from academy.calculations import CALCULATIONS

    calculation = CALCULATIONS[name]
    assert "supports and does not replace" in calculation.caution
    assert "qualified" in calculation.caution
    assert calculation.formula
    assert calculation.source
