"""Mixing."""

from __future__ import annotations

import pytest

from academy.domain.conditions.dilution import StrongerThanTheStock, mixture, percent_of_ratio


def test_one_to_ten_is_a_part_in_eleven() -> None:
    assert percent_of_ratio(10) == pytest.approx(100 / 11)


def test_a_concentrate_that_is_not_neat_is_weaker_in_proportion() -> None:
    assert percent_of_ratio(1, concentrate_percent=70) == 35


def test_stock_and_water_fill_the_volume_and_hold_the_strength() -> None:
    mixed = mixture(70, 15, 1000)

    assert mixed.stock_ml + mixed.water_ml == pytest.approx(1000)
    assert mixed.stock_ml == pytest.approx(214.3, abs=0.05)
    assert mixed.stock_ml * 70 / 1000 == pytest.approx(15)


def test_the_stock_itself_takes_no_water() -> None:
    assert mixture(15, 15, 500).water_ml == 0


def test_nothing_stronger_than_the_stock_can_be_mixed() -> None:
    with pytest.raises(StrongerThanTheStock, match="20 % cannot be mixed from a stock of 15 %"):
        mixture(15, 20, 500)
