"""Intervals of a share and numbers of panels for proof."""

from __future__ import annotations

import pytest

from academy.domain.assessment.proportion import (
    clopper_pearson_interval,
    jeffreys_interval,
    panels_for_proof,
    wilson_interval,
)


def test_81_of_263_gives_the_printed_limits() -> None:
    """R. G. Newcombe 1998, Statistics in Medicine 17, 857; from memory, computed three ways."""
    wilson, exact, jeffreys = (
        interval(81, 263)
        for interval in (wilson_interval, clopper_pearson_interval, jeffreys_interval)
    )
    assert (wilson.lower, wilson.upper) == pytest.approx((0.2553, 0.3662), abs=5e-5)
    assert (exact.lower, exact.upper) == pytest.approx((0.2527, 0.3676), abs=5e-5)
    assert (jeffreys.lower, jeffreys.upper) == pytest.approx((0.2545, 0.3656), abs=5e-5)


@pytest.mark.parametrize(
    ("tried", "wilson", "exact", "jeffreys"),
    [
        (10, 0.7225, 0.6915, 0.7828),
        (5, 0.5655, 0.4782, 0.6206),
        (3, 0.4385, 0.2924, 0.4644),
        (20, 0.8389, 0.8316, 0.8834),
    ],
)
def test_nothing_but_passes_still_leaves_a_lower_bound(
    tried: int, wilson: float, exact: float, jeffreys: float
) -> None:
    """Computed three ways; the upper bound is 1 by convention."""
    expected = {
        wilson_interval: wilson,
        clopper_pearson_interval: exact,
        jeffreys_interval: jeffreys,
    }
    for interval, lower in expected.items():
        assert interval(tried, tried).lower == pytest.approx(lower, abs=5e-5)
        assert interval(tried, tried).upper == 1.0
        assert interval(0, tried).lower == 0.0
        assert interval(0, tried).upper == pytest.approx(1 - lower, abs=5e-5)


@pytest.mark.parametrize(("target", "panels"), [(0.8, 14), (0.9, 29), (0.95, 59)])
def test_straight_passes_that_prove_a_rate_at_95_percent(target: float, panels: int) -> None:
    """⌈ln 0.05/ln p⌉; computed."""
    assert panels_for_proof(target, 0.95) == panels
