"""Conversions between units, each by an exact ratio.

Computed on the decimal as written, with fractions, and rounded once at the
end.  The international inch is 25.4 mm exactly, so 1 mil is 25.4 µm; a
kilogram-force is 9.80665 N (standard gravity, CGPM 1901); a pound is
0.45359237 kg (international yard and pound agreement, 1959); a US gallon is
231 cubic inches, a fluid ounce its 128th part.  Known: definitions.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from typing import ClassVar

from academy.domain.sentences import TradeError


@dataclass(frozen=True, slots=True)
class Unit:
    """A unit: value in the quantity's base unit = `ratio` times value plus `offset`."""

    name: str
    quantity: str
    ratio: Fraction
    offset: Fraction = Fraction(0)


_NEWTONS_A_KILOGRAM = Fraction("9.80665")
_CUBIC_INCH_ML = Fraction("2.54") ** 3

UNITS = {
    unit.name: unit
    for unit in (
        Unit("um", "length", Fraction(1)),
        Unit("nm", "length", Fraction(1, 1000)),
        Unit("mm", "length", Fraction(1000)),
        Unit("mil", "length", Fraction("25.4")),
        Unit("in", "length", Fraction(25400)),
        Unit("C", "temperature", Fraction(1)),
        Unit("F", "temperature", Fraction(5, 9), Fraction(-160, 9)),
        Unit("N", "force", Fraction(1)),
        Unit("kgf", "force", _NEWTONS_A_KILOGRAM),
        Unit("lbf", "force", _NEWTONS_A_KILOGRAM * Fraction("0.45359237")),
        Unit("m/s", "speed", Fraction(1)),
        Unit("ft/min", "speed", Fraction("0.3048") / 60),
        Unit("ml", "volume", Fraction(1)),
        Unit("fl_oz", "volume", _CUBIC_INCH_ML * 231 / 128),
    )
}
ABSOLUTE_ZERO_C = Fraction("-273.15")


@dataclass(eq=False)
class UnlikeUnits(TradeError):
    """A length is not a force."""

    template: ClassVar[str] = (
        "%(from_unit)s is a %(from_quantity)s and %(to_unit)s a %(to_quantity)s"
    )
    from_unit: str
    from_quantity: str
    to_unit: str
    to_quantity: str


@dataclass(eq=False)
class BelowAbsoluteZero(TradeError):
    """Nothing is colder than -273.15 °C."""

    template: ClassVar[str] = "%(value)s %(unit)s is below absolute zero, -273.15 C"
    value: str
    unit: str


def converted(value: float | Decimal, from_unit: str, to_unit: str) -> float:
    """Return `value` in another unit of the same quantity, rounded once.

    Raises
    ------
    UnlikeUnits
        the two units measure different quantities
    BelowAbsoluteZero
        the temperature does not exist
    """
    source, target = UNITS[from_unit], UNITS[to_unit]
    if source.quantity != target.quantity:
        raise UnlikeUnits(from_unit, source.quantity, to_unit, target.quantity)
    base = Fraction(str(value)) * source.ratio + source.offset
    if source.quantity == "temperature" and base < ABSOLUTE_ZERO_C:
        raise BelowAbsoluteZero(str(value), from_unit)
    return float((base - target.offset) / target.ratio)


def micrometres_from_mils(value_mil: float | Decimal) -> float:
    """Return a thickness in micrometres; 1 mil is 25.4 µm exactly."""
    return converted(value_mil, "mil", "um")
