"""What a signature under a closed record means, and when it is late."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime, tzinfo
from enum import StrEnum

from academy.domain.sentences import TradeError


class Meaning(StrEnum):
    """What somebody says by signing."""

    ASSESSED = "assessed"
    AGREED = "seen and agreed"


@dataclass(frozen=True, slots=True)
class Presence:
    """Whether the trainee stood by when the record was closed; where not, why."""

    present: bool
    reason: str = ""


@dataclass(eq=False)
class AbsentWithoutReason(TradeError):
    """A record is closed with the trainee present."""

    template = "A record is closed with the trainee there. Where that cannot be, say why"


@dataclass(eq=False)
class LateWithoutReason(TradeError):
    """The day it was closed has passed."""

    template = (
        "This record was closed on %(closed_on)s. It is signed the same day; to sign it later,"
        " say why. The reason stays beside the signature"
    )
    closed_on: date


def refuse_absence_without_reason(presence: Presence) -> None:
    """Raise AbsentWithoutReason where nobody says why the trainee is not there."""
    if not presence.present and not presence.reason.strip():
        raise AbsentWithoutReason()


def is_late(closed_at: datetime, signed_at: datetime, zone: tzinfo) -> bool:
    """Return whether a record is signed on another day than it was closed, by the shop's clock."""
    return signed_at.astimezone(zone).date() > closed_at.astimezone(zone).date()


def refuse_late_without_reason(
    closed_at: datetime, signed_at: datetime, zone: tzinfo, reason: str
) -> None:
    """Raise LateWithoutReason where a late signature does not say why."""
    if is_late(closed_at, signed_at, zone) and not reason.strip():
        raise LateWithoutReason(closed_at.astimezone(zone).date())
