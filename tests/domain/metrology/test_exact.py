"""Numbers as they were written."""

from __future__ import annotations

import math
from decimal import Decimal
from fractions import Fraction

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from academy.domain.metrology.exact import exact, square_root


@pytest.mark.parametrize(
    "value",
    [112.1, "112.1", Decimal("112.1"), Fraction(1121, 10), np.float64(112.1)],
    ids=["number", "text", "decimal", "fraction", "numpy"],
)
def test_a_reading_is_the_decimal_that_was_written(value: float) -> None:
    assert exact(value) == Fraction(1121, 10)


@given(st.floats(1e-150, 1e150))
def test_a_square_root_is_right_to_the_last_digit(value: float) -> None:
    assert square_root(Fraction(value)) == pytest.approx(math.sqrt(value), rel=2.3e-16)


def test_a_variance_beyond_the_range_of_floats_still_has_a_root() -> None:
    assert square_root(Fraction(10) ** 400) == 1e200
    assert square_root(Fraction(1, 10**400)) == 1e-200
    assert square_root(Fraction(0)) == 0.0
