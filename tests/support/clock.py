"""The one moment at which tests happen, unless they say another."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

NOW = datetime(2026, 3, 2, 9, 30, tzinfo=UTC)


def later(*, days: float = 0, hours: float = 0, minutes: float = 0, seconds: float = 0) -> datetime:
    """Return the moment that long after NOW; negative is before."""
    return NOW + timedelta(days=days, hours=hours, minutes=minutes, seconds=seconds)
