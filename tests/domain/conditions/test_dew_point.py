"""The dew point and the margin a coating wants."""

from __future__ import annotations

import pytest

from academy.domain.conditions.dew_point import (
    AirDrierThanTheThermometers,
    dew_point_by_thumb_c,
    dew_point_c,
    dew_point_from_wet_bulb_c,
    panel_margin,
)


@pytest.mark.parametrize("air_c", [-30.0, 0.0, 21.0, 45.0])
def test_saturated_air_is_at_its_dew_point(air_c: float) -> None:
    assert dew_point_c(air_c, 100) == pytest.approx(air_c)
    assert dew_point_from_wet_bulb_c(air_c, air_c) == pytest.approx(air_c)


def test_drier_air_has_a_lower_dew_point() -> None:
    points = [dew_point_c(20, humidity) for humidity in range(1, 101)]

    assert points == sorted(points)


def test_the_rule_of_thumb_is_within_a_degree_and_a_half_or_so_above_half_humidity() -> None:
    for air_c in range(5, 31):
        for humidity in range(50, 101, 5):
            exact = dew_point_c(air_c, humidity)
            assert dew_point_by_thumb_c(air_c, humidity) == pytest.approx(exact, abs=1.6)


def test_a_margin_of_exactly_three_kelvin_is_enough_and_less_is_not() -> None:
    dew_c = dew_point_c(20, 60)

    assert panel_margin(dew_c + 3, dew_c).enough
    assert not panel_margin(dew_c + 2.999, dew_c).enough
    assert not panel_margin(dew_c - 1, dew_c).enough


def test_a_data_sheet_may_ask_for_more() -> None:
    assert not panel_margin(16, 12, needed_k=5).enough


def test_an_impossible_wet_bulb_says_to_look_at_the_wick() -> None:
    with pytest.raises(AirDrierThanTheThermometers, match="check that the wick is wet"):
        dew_point_from_wet_bulb_c(40, 5)
