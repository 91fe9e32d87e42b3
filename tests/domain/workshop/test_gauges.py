"""When a gauge may be read from, and what a failed verification puts in doubt."""

from __future__ import annotations

from datetime import UTC, date, datetime
from decimal import Decimal
from zoneinfo import ZoneInfo

import pytest

from academy.domain.curriculum.kinds import Substrate
from academy.domain.metrology.methods import GaugeMethod
from academy.domain.metrology.verification import Check, Combine, Tolerance
from academy.domain.workshop.gauges import (
    GaugeFailed,
    GaugeNotVerified,
    NoFoilRead,
    NothingReadsPlastic,
    Standard,
    StandardRead,
    TooFewOnStandard,
    WrongMethod,
    doubt_about,
    judge_standards,
    method_needed,
    refuse_unverified_gauge,
)

BERLIN = ZoneInfo("Europe/Berlin")
GAUGE = Tolerance("1", "1")


def at(hour: int, day: int = 2) -> datetime:
    return datetime(2026, 3, day, hour, 30, tzinfo=UTC)


def read(certified: str, *readings: str, tolerance: str = "0.5") -> StandardRead:
    standard = Standard(f"foil {certified}", Decimal(certified), Tolerance(tolerance))
    return StandardRead(standard, tuple(map(Decimal, readings)))


@pytest.mark.parametrize(
    ("checks", "now", "refusal"),
    [
        pytest.param([], at(9), GaugeNotVerified, id="never verified"),
        pytest.param([Check(at(7), True)], at(9), None, id="passed this morning"),
        pytest.param([Check(at(7, 1), True)], at(7), GaugeNotVerified, id="passed yesterday"),
        pytest.param([Check(at(7), False)], at(9), GaugeFailed, id="failed this morning"),
        pytest.param(
            [Check(at(7), True), Check(at(8), False)], at(9), GaugeFailed, id="failed since"
        ),
        pytest.param(
            [Check(at(8), True), Check(at(7), False)], at(9), None, id="passed after a failure"
        ),
        # 23:30 UTC on the 1st is half past midnight on the 2nd in Berlin
        pytest.param([Check(at(23, 1), True)], at(9), None, id="the same day on the shop's clock"),
        pytest.param([Check(at(21), True)], at(23), GaugeNotVerified, id="midnight has passed"),
    ],
)
def test_a_gauge_is_read_from_only_on_the_day_it_was_verified(
    checks: list[Check], now: datetime, refusal: type[Exception] | None
) -> None:
    def ask() -> None:
        refuse_unverified_gauge("Bench gauge", GaugeMethod.MAGNETIC, checks, now, BERLIN)

    if refusal is None:
        ask()
    else:
        with pytest.raises(refusal, match="Bench gauge"):
            ask()


BOTH = (GaugeMethod.MAGNETIC, GaugeMethod.EDDY_CURRENT)


@pytest.mark.parametrize(
    ("methods", "substrate", "expected"),
    [
        (BOTH, Substrate.STEEL, GaugeMethod.MAGNETIC),
        (BOTH, Substrate.ALUMINIUM, GaugeMethod.EDDY_CURRENT),
        (BOTH, Substrate.PLASTIC, NothingReadsPlastic),
        (BOTH[:1], Substrate.ALUMINIUM, WrongMethod),
        (BOTH[1:], Substrate.STEEL, WrongMethod),
    ],
)
def test_the_metal_decides_the_method(
    methods: tuple[GaugeMethod, ...],
    substrate: Substrate,
    expected: GaugeMethod | type[Exception],
) -> None:
    if isinstance(expected, GaugeMethod):
        assert method_needed("Bench gauge", methods, substrate) is expected
    else:
        with pytest.raises(expected):
            method_needed("Bench gauge", methods, substrate)


# At 100 µm: gauge 1 + 1 = 2, foil 0.5; root-sum-square √4.25 = 2.0616, sum 2.5.
@pytest.mark.parametrize(
    ("shown", "combine", "passed"),
    [
        ("102.06", Combine.ROOT_SUM_SQUARE, True),
        ("102.07", Combine.ROOT_SUM_SQUARE, False),
        ("102.07", Combine.SUM, True),
        ("97.5", Combine.SUM, True),
        ("97.49", Combine.SUM, False),
    ],
)
def test_gauge_and_foil_are_judged_by_their_tolerances_together(
    shown: str, combine: Combine, passed: bool
) -> None:
    (judged,) = judge_standards([read("100", shown, shown, shown)], GAUGE, combine)
    assert judged.passed is passed


def test_on_zero_a_share_of_nothing_is_nothing() -> None:
    reads = [read("0", "1.0", "1.0", "1.0", tolerance="0"), read("50", "50", "50", "50")]
    zero, _foil = judge_standards(reads, GAUGE, Combine.ROOT_SUM_SQUARE)
    assert (zero.limit_um, zero.passed) == (1.0, True)


def test_zero_alone_is_no_verification() -> None:
    with pytest.raises(NoFoilRead):
        judge_standards([read("0", "0", "0", "0")], GAUGE, Combine.SUM)


def test_two_readings_on_a_foil_are_too_few() -> None:
    with pytest.raises(TooFewOnStandard, match="at least 3 times; 2 given"):
        judge_standards([read("50", "50", "50")], GAUGE, Combine.SUM)


HISTORY = [Check(at(7, 2), True), Check(at(7, 4), False), Check(at(9, 4), True)]


@pytest.mark.parametrize(
    ("taken", "doubted"),
    [
        pytest.param(at(6, 2), False, id="before the last good check"),
        pytest.param(at(12, 3), True, id="after the last good check"),
        pytest.param(at(8, 4), True, id="after the failure"),
        pytest.param(at(10, 4), False, id="after it passed again"),
    ],
)
def test_a_failed_check_puts_everything_since_the_last_good_one_in_doubt(
    taken: datetime, doubted: bool
) -> None:
    doubt = doubt_about(HISTORY, [taken], zone=BERLIN, remeasure_days=14)
    assert (doubt is not None) is doubted
    if doubt:
        assert (doubt.failed_at, doubt.remeasure_by) == (at(7, 4), date(2026, 3, 18))
