"""Numbers as they were written, without binary rounding.

A reading typed as 112.1 is the decimal 112.1.  Statistics and limits are
computed on that decimal with fractions and rounded once, so that a removal of
exactly the limit is within it and a large common offset costs no digits.
"""

from __future__ import annotations

from collections.abc import Iterable
from decimal import Decimal
from fractions import Fraction
from math import isqrt

Written = float | int | str | Decimal | Fraction

SQUARE_ROOT_BITS = 128


def exact(value: Written) -> Fraction:
    """Return the decimal that was written; a float stands for its shortest decimal text."""
    if isinstance(value, (Fraction, int)):
        return Fraction(value)
    if isinstance(value, float):
        return Fraction(repr(float(value)))
    return Fraction(value)


def exact_all(values: Iterable[Written]) -> list[Fraction]:
    """Return each value as the decimal that was written."""
    return [exact(value) for value in values]


def mean_of(values: list[Fraction]) -> Fraction:
    """Return the arithmetic mean, exactly."""
    return sum(values, Fraction(0)) / len(values)


def squared_deviations(values: list[Fraction]) -> Fraction:
    """Return the sum of squared deviations from the mean, exactly."""
    mean = mean_of(values)
    return sum(((value - mean) ** 2 for value in values), Fraction(0))


def square_root(value: Fraction) -> float:
    """Return the square root of a fraction at or above 0, correct to the last digit but for halfway cases.

    Integer root of the value scaled by a power of 4, so that neither a
    variance of 1e-400 nor one of 1e400 is lost on the way.
    """
    if value == 0:
        return 0.0
    size = value.numerator.bit_length() - value.denominator.bit_length()
    shift = SQUARE_ROOT_BITS - size // 2
    scaled = value * Fraction(4) ** shift
    root = isqrt(scaled.numerator // scaled.denominator)
    return float(Fraction(root) / Fraction(2) ** shift)
