"""The kinds of polishing machine, and where a vibration value comes from."""

from __future__ import annotations

from enum import StrEnum


class Machine(StrEnum):
    """How a machine moves its pad."""

    ROTARY = "rotary"
    FREE_SPINNING = "free-spinning dual action"
    FORCED = "forced-rotation dual action"

    @property
    def has_throw(self) -> bool:
        """Return whether the plate orbits; a rotary turns about its own axis."""
        return self is not Machine.ROTARY


class VibrationSource(StrEnum):
    """Where a hand-arm vibration value comes from, weakest first.

    A declared value comes from a test code and may be lower than what the
    hand meets at work; a value measured at this work is better.
    """

    UNKNOWN = "not known"
    DECLARED = "declared by the maker"
    MEASURED = "measured at this work"
