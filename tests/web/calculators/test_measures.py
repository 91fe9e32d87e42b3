"""The two unit systems of the calculators."""

from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from academy.web.calculators.measures import (
    US_MEASURES,
    Measure,
    UnitSystem,
    carried,
    least_shown,
    measure,
    most_shown,
)


@pytest.mark.parametrize(
    ("unit", "us", "shown", "taken"),
    [
        ("mm", "in", "6", 152.4),
        ("mm/s", "in/s", "2", 50.8),
        ("m", "ft", "1", 0.3048),
        ("m/s", "ft/min", "600", 3.048),
        ("N", "lbf", "1", 4.4482216152605),
        ("ml", "US fl oz", "1", 29.5735295625),
        ("°C", "°F", "-40", -40.0),
        ("°C", "°F", "212", 100.0),
        ("K", "°F", "9", 5.0),
        # 1 lbf over a square inch: 4.4482216152605 N / 0.00064516 m2, NIST SP 811 appendix B (computed)
        ("kPa", "psi", "1", 6.894757293168361),
    ],
)
def test_us_units_are_exact(unit: str, us: str, shown: str, taken: float) -> None:
    found = measure(unit, UnitSystem.US)
    assert found.unit == us
    assert found.taken(Decimal(shown)) == pytest.approx(taken, rel=1e-15)
    assert found.shown(taken) == pytest.approx(float(shown), rel=1e-12)


@pytest.mark.parametrize("unit", ["µm", "%", "s", "h", "dBA", "m/s²", "W/m²"])
def test_the_other_units_are_the_same_in_both(unit: str) -> None:
    assert measure(unit, UnitSystem.US) == Measure(unit)


@given(
    st.sampled_from(sorted(US_MEASURES)),
    st.decimals(-9999, 9999, places=2).filter(lambda number: number == 0 or abs(number) > 1),
    st.booleans(),
)
@example("K", Decimal("20.00"), True)
def test_going_over_and_back_gives_what_was_typed(unit: str, number: Decimal, us: bool) -> None:
    one, other = measure(unit, UnitSystem.METRIC), US_MEASURES[unit]
    source, target = (other, one) if us else (one, other)
    assert carried(carried(number, source, target), target, source) == number


@given(st.sampled_from(sorted(US_MEASURES)), st.floats(0.01, 5000))
def test_a_limit_that_is_shown_is_allowed(unit: str, limit: float) -> None:
    found = US_MEASURES[unit]
    assert found.taken(least_shown(limit, found)) >= limit
    assert found.taken(most_shown(limit, found)) <= limit
