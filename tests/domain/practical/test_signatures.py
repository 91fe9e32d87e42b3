"""A record is signed on the day it was closed, by the shop's own clock."""

from __future__ import annotations

from datetime import UTC, datetime
from zoneinfo import ZoneInfo

import pytest

from academy.domain.practical.signatures import (
    LateWithoutReason,
    is_late,
    refuse_late_without_reason,
)

AUCKLAND, NEW_YORK = ZoneInfo("Pacific/Auckland"), ZoneInfo("America/New_York")
# noon and midnight UTC: in Auckland (UTC+13 in March) 01:00 and 13:00 of one day
NOON, MIDNIGHT = datetime(2026, 3, 2, 12, tzinfo=UTC), datetime(2026, 3, 3, 0, tzinfo=UTC)


@pytest.mark.parametrize(
    ("zone", "late"), [(UTC, True), (AUCKLAND, False), (NEW_YORK, False)], ids=str
)
def test_the_shops_clock_decides_what_the_same_day_is(zone: ZoneInfo, late: bool) -> None:
    assert is_late(NOON, MIDNIGHT, zone) is late


def test_late_is_allowed_with_a_reason_only() -> None:
    with pytest.raises(LateWithoutReason, match="closed on 2026-03-02"):
        refuse_late_without_reason(NOON, MIDNIGHT, UTC, "  ")
    refuse_late_without_reason(NOON, MIDNIGHT, UTC, "the trainee fell ill")
    refuse_late_without_reason(NOON, NOON, UTC, "")
