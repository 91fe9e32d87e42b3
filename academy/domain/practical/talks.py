"""The one thing to change: said at the end of a practical, looked for at the next."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum
from uuid import UUID

from academy.domain.sentences import TradeError


class ChangeSeen(StrEnum):
    """Whether a practical shows what the talk before it asked for."""

    SHOWS = "it shows"
    NOT_YET = "not yet"
    DID_NOT_COME_UP = "it did not come up"


@dataclass(eq=False)
class NotALaterPractical(TradeError):
    """A change is looked for afterwards, in the same person's work."""

    template = "What was to change is looked for in a later practical of the same person"


@dataclass(frozen=True, slots=True)
class ChangeAsked:
    """The one thing to change, from the talk of one practical."""

    practical_id: UUID
    asked_at: datetime
    change: str


@dataclass(frozen=True, slots=True)
class ChangeLookedFor:
    """What a supervisor said about it at a later practical."""

    asked_in: UUID
    seen_in: UUID
    seen: ChangeSeen
    said_at: datetime


@dataclass(frozen=True, slots=True)
class ChangeState:
    """One thing to change with what was last said of it, None before anybody looked."""

    asked: ChangeAsked
    last: ChangeLookedFor | None

    @property
    def still_open(self) -> bool:
        """Return whether the next practical has to be looked at for it."""
        return self.last is None or self.last.seen is not ChangeSeen.SHOWS


def changes(
    asked: Iterable[ChangeAsked], looked_for: Iterable[ChangeLookedFor]
) -> tuple[ChangeState, ...]:
    """Return each thing to change with the latest word on it, newest first.

    The latest word counts: what was said of it is never rewritten, only followed.
    """
    latest: dict[UUID, ChangeLookedFor] = {}
    for looked in sorted(looked_for, key=lambda one: one.said_at):
        latest[looked.asked_in] = looked
    newest_first = sorted(
        asked, key=lambda one: (one.asked_at, str(one.practical_id)), reverse=True
    )
    return tuple(ChangeState(one, latest.get(one.practical_id)) for one in newest_first)
