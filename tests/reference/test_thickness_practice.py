"""Dry film thickness practice: spots, odd readings, gauge checks.

SSPC-PA 2 as summarised by its society and in older texts (read; the numbers
exercise the rules), ISO 2360, ASTM D7091-05.
"""

from __future__ import annotations

from datetime import UTC, datetime

import pytest

from academy.domain.metrology.errors import TooFewReadings
from academy.domain.metrology.methods import GaugeMethod, Substrate, method_suits
from academy.domain.metrology.removal import SpotReadings, removal_at_spots
from academy.domain.metrology.spot import spot_value, spot_value_after_repeat
from academy.domain.metrology.summary import summarise
from academy.domain.metrology.verification import (
    Check,
    Tolerance,
    in_doubt,
    less_base_metal,
    verify_gauge,
    zero_passes,
)
from academy.domain.units import converted


@pytest.mark.parametrize(
    ("mil", "um"), [(1, 25.4), (2, 50.8), (4, 101.6), (4.5, 114.3), (5, 127.0)]
)
def test_a_mil_is_25_4_micrometres_exactly(mil: float, um: float) -> None:
    """International inch; definition."""
    assert converted(mil, "mil", "um") == um


def test_a_hundred_micrometres_in_mils() -> None:
    assert converted(100, "um", "mil") == pytest.approx(3.937007874, abs=1e-9)


def test_a_spot_is_the_mean_of_at_least_three_readings() -> None:
    """SSPC-PA 2 (2015, 2018), read."""
    assert spot_value([108.0, 111.0, 105.0]).mean_um == 108.0
    with pytest.raises(TooFewReadings, match="3 readings are needed for this; 2 given"):
        spot_value([108.0, 111.0])


def test_an_odd_reading_that_does_not_repeat_is_dropped_and_kept_on_record() -> None:
    """SSPC-PA 2 section 2.1, read: 187 cannot be repeated."""
    spot = spot_value_after_repeat([112, 111, 187, 113], odd=2, repeat_um=112)
    assert spot.mean_um == 112.0
    assert spot.dropped_um == (187.0,)


def test_an_odd_reading_that_repeats_stays() -> None:
    spot = spot_value_after_repeat([112, 111, 187, 113], odd=2, repeat_um=186)
    assert spot.dropped_um == ()
    assert spot.kept_um == (112, 111, 187, 113, 186)


@pytest.mark.parametrize(("gauge", "standard", "both"), [(5, 5, 7.0711), (3, 1, 3.1623)])
def test_independent_tolerances_add_as_root_sum_square(
    gauge: float, standard: float, both: float
) -> None:
    """SSPC-PA 2, older text, from memory: an example of about 7 %."""
    check = verify_gauge(100, [100], Tolerance(percent=gauge), Tolerance(percent=standard))
    assert check.limit_um == pytest.approx(both, abs=1e-4)


def test_a_zero_check_uses_the_absolute_part_only() -> None:
    assert zero_passes([0.4, -0.3, 0.5], Tolerance(absolute_um=1.0, percent=3))
    assert not zero_passes([1.2, 1.1, 1.0], Tolerance(absolute_um=1.0, percent=3))


def test_a_base_metal_reading_is_taken_off() -> None:
    """SSPC-PA 2 sections 5 and 6, read."""
    assert less_base_metal(118.0, 6.5) == 111.5


def test_whichever_is_greater_crosses_where_the_two_parts_are_equal() -> None:
    """1 % and 2.5 µm cross at 250 µm; a supplier's page says 50 µm, which is wrong."""
    tolerance = Tolerance(absolute_um=2.5, percent=1)
    assert float(tolerance.greater_part_at(100)) == 2.5
    assert float(tolerance.greater_part_at(250)) == 2.5
    assert float(tolerance.greater_part_at(400)) == 4.0


def test_a_fixed_part_and_a_share_add_up() -> None:
    assert float(Tolerance(absolute_um=1.0, percent=1).at(120)) == 2.2


def at(clock: str) -> datetime:
    """Return that time on an invented day."""
    return datetime.fromisoformat(f"2026-03-02T{clock}").replace(tzinfo=UTC)


@pytest.mark.parametrize(
    ("clock", "suspect"),
    [("07:30", False), ("08:10", True), ("11:59", True), ("12:05", True), ("13:30", False)],
)
def test_a_failed_check_puts_readings_in_doubt_back_to_the_last_good_one(
    clock: str, suspect: bool
) -> None:
    """SSPC-PA 2 sections 5 and 6, read; that it lasts until the next good check is our reading."""
    checks = [Check(at("08:00"), True), Check(at("12:00"), False), Check(at("13:00"), True)]
    assert in_doubt(checks, at(clock)) is suspect


def test_a_report_holds_mean_extremes_spread_and_variation() -> None:
    """ISO 2360:2003 clauses 7 and 9, read."""
    summary = summarise([110, 112, 108, 111, 109])
    assert (summary.mean, summary.maximum, summary.minimum) == (110.0, 112.0, 108.0)
    assert summary.sd == pytest.approx(1.581139, abs=1e-6)
    assert summary.cv_percent == pytest.approx(1.437399, abs=1e-6)


@pytest.mark.parametrize(
    ("method", "substrate", "suits"),
    [
        (GaugeMethod.MAGNETIC, Substrate.STEEL, True),
        (GaugeMethod.EDDY_CURRENT, Substrate.STEEL, False),
        (GaugeMethod.EDDY_CURRENT, Substrate.ALUMINIUM, True),
        (GaugeMethod.MAGNETIC, Substrate.ALUMINIUM, False),
        (GaugeMethod.MAGNETIC, Substrate.PLASTIC, False),
        (GaugeMethod.EDDY_CURRENT, Substrate.PLASTIC, False),
        (GaugeMethod.ULTRASONIC, Substrate.PLASTIC, True),
    ],
)
def test_a_gauge_reads_true_on_its_own_substrate(
    method: GaugeMethod, substrate: Substrate, suits: bool
) -> None:
    """ASTM D7091-05 1.2 to 1.6, ISO 2178:2016, ISO 2360:2017 scopes, read."""
    assert method_suits(method, substrate) is suits


def test_a_total_tells_what_was_removed_and_not_what_clear_coat_is_left() -> None:
    """ASTM D7091-05: readings are cumulative down to metal, read."""
    removal = removal_at_spots([SpotReadings([118.0], [115.5])], gauge_sd_um=0.5)
    assert removal.removed_um == 2.5
    assert not [name for name in type(removal).__slots__ if "clear" in name or "left" in name]
