"""The logbook: practice work, drills, time at machines, and what was to change.

Nothing here is changed once written.  A correction is a row that names the
one it takes the place of and says why.
"""

from __future__ import annotations

from datetime import date, datetime
from decimal import Decimal
from uuid import UUID

from sqlalchemy import CheckConstraint, ForeignKey, ForeignKeyConstraint, Index, String, Text
from sqlalchemy.orm import Mapped, mapped_column

from academy.domain.practical.logbook import EntryKind, PracticeStage
from academy.domain.practical.talks import ChangeSeen
from academy.store.tables.base import Base, Name, OwnKey, ShopKey
from academy.store.types import Thousandths, word

# a correction says why, and nothing else has a reason
CORRECTED = "(supersedes_id IS NULL) = (reason = '')"


class LogbookEntry(Base):
    """One piece of practice work or one drill; ``taken_back`` marks a correction that leaves nothing."""

    __tablename__ = "logbook_entries"
    shop_id: Mapped[ShopKey]
    id: Mapped[OwnKey]
    person_id: Mapped[UUID] = mapped_column(ForeignKey("people.id"))
    kind: Mapped[EntryKind] = mapped_column(word(EntryKind))
    subject_id: Mapped[str] = mapped_column(String(100))
    stage: Mapped[PracticeStage | None] = mapped_column(word(PracticeStage))
    worked_on: Mapped[date]
    worked_at: Mapped[Name]
    note: Mapped[str] = mapped_column(Text)
    entered_by: Mapped[UUID] = mapped_column(ForeignKey("people.id"))
    entered_at: Mapped[datetime]
    supersedes_id: Mapped[UUID | None]
    reason: Mapped[str] = mapped_column(String(500))
    taken_back: Mapped[bool]
    __table_args__ = (
        ForeignKeyConstraint(
            ["shop_id", "supersedes_id"], ["logbook_entries.shop_id", "logbook_entries.id"]
        ),
        CheckConstraint("(kind = 'practice') = (stage IS NOT NULL)", name="stage"),
        CheckConstraint(CORRECTED, name="corrected"),
        Index(None, "shop_id", "person_id", "worked_on"),
        Index(None, "shop_id", "supersedes_id", unique=True),
    )


class LogbookConfirmation(Base):
    """A supervisor has confirmed an entry."""

    __tablename__ = "logbook_confirmations"
    shop_id: Mapped[ShopKey]
    entry_id: Mapped[UUID] = mapped_column(primary_key=True)
    confirmed_by: Mapped[UUID] = mapped_column(ForeignKey("people.id"))
    confirmed_at: Mapped[datetime]
    __table_args__ = (
        ForeignKeyConstraint(
            ["shop_id", "entry_id"], ["logbook_entries.shop_id", "logbook_entries.id"]
        ),
    )


class ToolTime(Base):
    """Time with the hands on a running machine, with the vibration value as it stood that day.

    Without ``entry_id`` it is what a person says of the day before the
    session, here or elsewhere; nought seconds then say that there was none.
    """

    __tablename__ = "tool_times"
    shop_id: Mapped[ShopKey]
    id: Mapped[OwnKey]
    person_id: Mapped[UUID] = mapped_column(ForeignKey("people.id"))
    worked_on: Mapped[date]
    entry_id: Mapped[UUID | None]
    machine_id: Mapped[UUID | None]
    says: Mapped[Name]
    seconds: Mapped[int]
    vibration_m_s2: Mapped[Decimal | None] = mapped_column(Thousandths)
    vibration_uncertainty_m_s2: Mapped[Decimal | None] = mapped_column(Thousandths)
    stated_by: Mapped[UUID] = mapped_column(ForeignKey("people.id"))
    stated_at: Mapped[datetime]
    supersedes_id: Mapped[UUID | None]
    reason: Mapped[str] = mapped_column(String(500))
    __table_args__ = (
        ForeignKeyConstraint(
            ["shop_id", "entry_id"], ["logbook_entries.shop_id", "logbook_entries.id"]
        ),
        ForeignKeyConstraint(["shop_id", "machine_id"], ["machines.shop_id", "machines.id"]),
        ForeignKeyConstraint(["shop_id", "supersedes_id"], ["tool_times.shop_id", "tool_times.id"]),
        CheckConstraint("seconds BETWEEN 0 AND 86400", name="seconds"),
        CheckConstraint("vibration_m_s2 >= 0", name="vibration"),
        CheckConstraint(CORRECTED, name="corrected"),
        Index(None, "shop_id", "person_id", "worked_on"),
        Index(None, "shop_id", "supersedes_id", unique=True),
    )


class ChangeFollowUp(Base):
    """Whether a later practical shows the one thing to change; the latest word counts."""

    __tablename__ = "change_follow_ups"
    shop_id: Mapped[ShopKey]
    id: Mapped[OwnKey]
    asked_in: Mapped[UUID]
    seen_in: Mapped[UUID]
    seen: Mapped[ChangeSeen] = mapped_column(word(ChangeSeen))
    said_by: Mapped[UUID] = mapped_column(ForeignKey("people.id"))
    said_at: Mapped[datetime]
    __table_args__ = (
        ForeignKeyConstraint(["shop_id", "asked_in"], ["practicals.shop_id", "practicals.id"]),
        ForeignKeyConstraint(["shop_id", "seen_in"], ["practicals.shop_id", "practicals.id"]),
        CheckConstraint("asked_in <> seen_in", name="later"),
        Index(None, "shop_id", "asked_in", "said_at"),
    )
