"""What an owner decides about a question that stands on the list to be mended."""

from __future__ import annotations

from enum import StrEnum


class Mending(StrEnum):
    """A decision about one wording; a changed wording is looked at afresh."""

    HANDLED = "handled"
    DISMISSED = "dismissed"
    TO_MEND = "to mend again"

    @property
    def rests(self) -> bool:
        """Return whether the wording is off the list."""
        return self is not Mending.TO_MEND
