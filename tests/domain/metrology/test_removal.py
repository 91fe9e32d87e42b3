"""Removal at marked spots."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from academy.domain.metrology.errors import TooFewReadings, UnknownRepeatability
from academy.domain.metrology.removal import SpotReadings, removal_at_spots
from academy.domain.metrology.uncertainty import coverage_factor


def test_one_spot_with_repeats_uses_their_pooled_scatter() -> None:
    removal = removal_at_spots([SpotReadings([112, 114], [110, 110, 113])])
    pooled = math.sqrt((2 + 6) / 3)
    assert removal.df == 3
    assert removal.u_um == pytest.approx(pooled * math.sqrt(1 / 2 + 1 / 3))
    assert removal.upper_um - removal.removed_um == pytest.approx(removal.expanded_um)
    assert removal.per_spot[0].u_um == removal.u_um


def test_repeats_on_one_side_are_enough() -> None:
    assert removal_at_spots([SpotReadings([112], [110, 111, 109])]).df == 2


def test_one_spot_with_single_readings_needs_the_gauges_repeatability() -> None:
    with pytest.raises(UnknownRepeatability, match="gauge_sd_um"):
        removal_at_spots([SpotReadings([112], [110])])
    removal = removal_at_spots([SpotReadings([112], [110])], gauge_sd_um=0.5)
    assert removal.df is None
    assert removal.expanded_um == pytest.approx(1.959964 * 0.5 * math.sqrt(2), rel=1e-6)


def test_the_display_adds_its_last_digit_and_more_degrees_of_freedom() -> None:
    spots = [SpotReadings([b], [a]) for b, a in [(112, 110), (113, 110), (112, 109), (111, 109)]]
    plain = removal_at_spots(spots)
    coarse = removal_at_spots(spots, resolution_um=1)
    assert coarse.u_um**2 - plain.u_um**2 == pytest.approx(2 / 12 / 4)
    assert plain.df == 3
    v, d = plain.u_um**2, 2 / 12 / 4
    assert coarse.df == math.floor((v + d) ** 2 / (v**2 / 3))


def test_differences_all_the_same_leave_only_the_display() -> None:
    spots = [SpotReadings([112], [110]), SpotReadings([115], [113])]
    assert removal_at_spots(spots).u_um == 0.0
    assert removal_at_spots(spots).df == 1
    displayed = removal_at_spots(spots, resolution_um=0.1)
    assert displayed.df is None
    assert displayed.u_um == pytest.approx(math.sqrt(2 * 0.01 / 12 / 2))


def test_a_scatter_next_to_nothing_leaves_the_normal_interval() -> None:
    spots = [SpotReadings(["112." + "0" * 200 + "1"], [110]), SpotReadings([112], [110])]
    removal = removal_at_spots(spots, resolution_um=1)
    assert removal.expanded_um / removal.u_um == pytest.approx(1.959963984540054, rel=1e-14)


def test_degrees_of_freedom_are_not_lost_to_rounding() -> None:
    spots = [SpotReadings([100 + d], [100]) for d in (0.1, 0.3, 0.2, 0.7, 0.4)]
    for count in range(2, 6):
        assert removal_at_spots(spots[:count], resolution_um=0).df == count - 1


def test_a_spots_own_scatter_comes_from_repeats_then_from_the_gauge_else_it_is_unknown() -> None:
    spots = [SpotReadings([112, 113], [110, 110]), SpotReadings([112], [109])]
    repeated, single = removal_at_spots(spots, gauge_sd_um=2).per_spot
    assert (repeated.df, single.df) == (2, None)
    assert single.u_um == pytest.approx(2 * math.sqrt(2))
    unknown = removal_at_spots(spots).per_spot[1]
    assert (unknown.u_um, unknown.lower_um, unknown.upper_um) == (None, None, None)


def test_unevenness_is_what_the_readings_do_not_explain() -> None:
    spots = [SpotReadings([120], [110]), SpotReadings([112], [110])]
    assert removal_at_spots(spots, gauge_sd_um=1).unevenness_um == pytest.approx(math.sqrt(32 - 2))
    assert removal_at_spots(spots, gauge_sd_um=10).unevenness_um == 0.0
    assert removal_at_spots(spots).unevenness_um is None


def test_a_spot_needs_a_reading_on_either_side() -> None:
    with pytest.raises(TooFewReadings):
        removal_at_spots([])
    with pytest.raises(TooFewReadings):
        removal_at_spots([SpotReadings([112], [])])


@given(
    st.lists(st.tuples(st.integers(900, 1500), st.integers(900, 1500)), min_size=2, max_size=8),
    st.integers(-5000, 50000),
)
def test_a_bias_of_the_gauge_changes_nothing(tenths: list[tuple[int, int]], bias: int) -> None:
    def spots(offset: int) -> list[SpotReadings]:
        return [SpotReadings([(b + offset) / 10], [(a + offset) / 10]) for b, a in tenths]

    assert removal_at_spots(spots(bias)) == removal_at_spots(spots(0))


@given(st.lists(st.floats(0.1, 6), min_size=2, max_size=10))
def test_the_interval_is_students_around_the_mean(removed: list[float]) -> None:
    removal = removal_at_spots([SpotReadings([100 + r], [100]) for r in removed])
    factor = coverage_factor(len(removed) - 1)
    assert removal.upper_um - removal.lower_um == pytest.approx(2 * factor * removal.u_um)
    assert removal.max_removed_um == pytest.approx(max(removed))
