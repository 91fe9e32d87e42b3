"""Conversions between units."""

from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from academy.domain.units import UNITS, BelowAbsoluteZero, UnlikeUnits, converted

NAMES_BY_QUANTITY = [
    (a.name, b.name) for a in UNITS.values() for b in UNITS.values() if a.quantity == b.quantity
]


@pytest.mark.parametrize(
    ("value", "from_unit", "to_unit", "expected"),
    [
        (1, "in", "mm", 25.4),
        (0.3, "mil", "um", 7.62),
        (550, "nm", "um", 0.55),
        (-40, "C", "F", -40.0),
        (212, "F", "C", 100.0),
        (98.6, "F", "C", 37.0),
        (1, "kgf", "N", 9.80665),
        (1, "lbf", "N", 4.4482216152605),
        (1, "m/s", "ft/min", 196.8503937007874),
        (1, "fl_oz", "ml", 29.5735295625),
        (Decimal("0.1"), "mm", "um", 100.0),
    ],
)
def test_a_value_converts_by_the_exact_ratio(
    value: float, from_unit: str, to_unit: str, expected: float
) -> None:
    assert converted(value, from_unit, to_unit) == expected


@given(st.floats(0.001, 1e6), st.sampled_from(NAMES_BY_QUANTITY))
def test_there_and_back_is_the_same_value(value: float, names: tuple[str, str]) -> None:
    there = converted(value, names[0], names[1])
    # A temperature's offset may eat leading digits, so the error is measured against it too.
    assert converted(there, names[1], names[0]) == pytest.approx(value, rel=1e-12, abs=1e-11)


def test_a_length_is_not_a_force() -> None:
    with pytest.raises(UnlikeUnits, match="mil is a length and N a force"):
        converted(1, "mil", "N")


def test_nothing_is_colder_than_absolute_zero() -> None:
    assert converted(Decimal("-459.67"), "F", "C") == -273.15
    with pytest.raises(BelowAbsoluteZero):
        converted(Decimal("-459.68"), "F", "C")
