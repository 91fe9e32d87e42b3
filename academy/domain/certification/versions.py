"""Which version of a scheme rules on a day."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime


@dataclass(frozen=True, slots=True)
class Adoption:
    """A version that rules from a day on."""

    scheme_id: str
    digest: str
    applies_from: date
    adopted_at: datetime


def ruling_digest(adoptions: Iterable[Adoption], scheme_id: str, day: date) -> str | None:
    """Return the version that rules on a day: the last to have begun, of one day the last adopted.

    Before the first one began, that one rules; None where none was ever adopted.
    """
    of_scheme = [one for one in adoptions if one.scheme_id == scheme_id]
    begun = [one for one in of_scheme if one.applies_from <= day]
    if begun:
        return max(begun, key=lambda one: (one.applies_from, one.adopted_at)).digest
    first = min(of_scheme, key=lambda one: (one.applies_from, one.adopted_at), default=None)
    return first.digest if first else None


def rules_until(adoptions: Iterable[Adoption], scheme_id: str, day: date) -> date | None:
    """Return the first later day on which another version begins, or None."""
    later = (
        one.applies_from
        for one in adoptions
        if one.scheme_id == scheme_id and one.applies_from > day
    )
    return min(later, default=None)
