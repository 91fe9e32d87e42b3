"""The two unit systems: what a reader sees and types, and what the calculation takes.

Thickness of paint is in micrometres in both, with mils beside it: gauges and
limits here are in micrometres, and a limit is never converted and rounded.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import ROUND_CEILING, ROUND_FLOOR, ROUND_HALF_EVEN, Context, Decimal
from enum import StrEnum
from fractions import Fraction
from types import MappingProxyType

from academy.domain.units import UNITS

# Far finer than anybody measures, and coarse enough that going back finds the typed number again.
CARRIED_WITHIN = Fraction(1, 10**8)
MOST_DIGITS = 17
SHOWN_DIGITS = 4


class UnitSystem(StrEnum):
    """Which units the reader chose; the word is the query's ``units``."""

    METRIC = "metric"
    US = "us"


@dataclass(frozen=True, slots=True)
class Measure:
    """A unit on the page: the calculation's value is `ratio` times the page's plus `offset`."""

    unit: str
    ratio: Fraction = Fraction(1)
    offset: Fraction = Fraction(0)

    @property
    def converts(self) -> bool:
        """Return whether the page's number is another one than the calculation's."""
        return self.ratio != 1 or self.offset != 0

    def taken(self, shown: Decimal) -> float:
        """Return what the calculation takes for a number on the page, rounded once."""
        return float(Fraction(shown) * self.ratio + self.offset)

    def shown(self, taken: float | Decimal) -> float:
        """Return what the page shows for a number of the calculation, rounded once."""
        return float((Fraction(str(taken)) - self.offset) / self.ratio)


def _of(name: str, us: str, *, per: str) -> Measure:
    return Measure(name, UNITS[us].ratio / UNITS[per].ratio)


_FOOT = UNITS["in"].ratio * 12
_POUND_N = UNITS["lbf"].ratio / UNITS["N"].ratio
_INCH_MM = UNITS["in"].ratio / UNITS["mm"].ratio

US_MEASURES: Mapping[str, Measure] = MappingProxyType(
    {
        "mm": _of("in", "in", per="mm"),
        "mm/s": _of("in/s", "in", per="mm"),
        "m": Measure("ft", _FOOT / (UNITS["mm"].ratio * 1000)),
        "m/s": _of("ft/min", "ft/min", per="m/s"),
        "N": _of("lbf", "lbf", per="N"),
        "ml": _of("US fl oz", "fl_oz", per="ml"),
        "°C": Measure("°F", UNITS["F"].ratio, UNITS["F"].offset),
        "K": Measure("°F", UNITS["F"].ratio),  # a difference of temperatures has no offset
        "kPa": Measure("psi", _POUND_N / _INCH_MM**2 * 1000),
    }
)


def measure(unit: str, system: UnitSystem) -> Measure:
    """Return how a registry's unit stands on the page in one of the two systems."""
    if unit == "any" or unit.startswith("as "):
        return Measure("")
    if system is UnitSystem.US and unit in US_MEASURES:
        return US_MEASURES[unit]
    return Measure("/min" if unit == "1/min" else unit)


def carried(typed: Decimal, source: Measure, target: Measure) -> Decimal:
    """Return a typed number in the other system, with as few digits as carry it."""
    zero = target.offset / target.ratio
    exact = (Fraction(typed) * source.ratio + source.offset) / target.ratio - zero
    for digits in range(1, MOST_DIGITS):
        carried_over = _digits(exact, digits, ROUND_HALF_EVEN)
        # the smaller of the two, so that the way back allows as much as the way there
        slack = CARRIED_WITHIN * (min(abs(exact), abs(Fraction(carried_over))) + abs(zero))
        if abs(Fraction(carried_over) - exact) <= slack:
            return carried_over
    return _digits(exact, MOST_DIGITS, ROUND_HALF_EVEN)


def least_shown(value: float, with_measure: Measure) -> Decimal:
    """Return a lower limit on the page, rounded so that the shown number is allowed."""
    return _end(value, with_measure, ROUND_CEILING)


def most_shown(value: float, with_measure: Measure) -> Decimal:
    """Return an upper limit on the page, rounded so that the shown number is allowed."""
    return _end(value, with_measure, ROUND_FLOOR)


def _end(value: float, with_measure: Measure, rounding: str) -> Decimal:
    if not with_measure.converts:
        return _plain(Decimal(repr(value)))
    exact = (Fraction(str(value)) - with_measure.offset) / with_measure.ratio
    return _digits(exact, SHOWN_DIGITS, rounding)


def _digits(exact: Fraction, digits: int, rounding: str) -> Decimal:
    ratio = Context(prec=digits, rounding=rounding).divide(
        Decimal(exact.numerator), Decimal(exact.denominator)
    )
    return _plain(ratio)


def _plain(number: Decimal) -> Decimal:
    """Return the number without zeros at the end and without an exponent."""
    return Decimal(f"{number.normalize():f}")
