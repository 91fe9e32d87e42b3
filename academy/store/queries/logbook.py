"""Logbook entries that count, who confirmed them, and what was to change."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any
from uuid import UUID

from sqlalchemy import Select, select
from sqlalchemy.orm import Session, aliased

from academy.domain.practical.logbook import EntryKind, PracticeStage
from academy.store.tables.logbook import LogbookConfirmation, LogbookEntry
from academy.store.tables.people import Person


@dataclass(frozen=True, slots=True)
class EntryRow:
    """One entry with the names of who entered and who confirmed it.

    ``replaced``: a later entry takes its place.  ``reason`` says why this one
    took the place of an earlier one.
    """

    id: UUID
    person_id: UUID
    person_name: str
    kind: EntryKind
    subject_id: str
    stage: PracticeStage | None
    worked_on: date
    worked_at: str
    note: str
    entered_by_name: str
    supersedes_id: UUID | None
    reason: str
    taken_back: bool
    confirmed_by_name: str | None
    confirmed_at: datetime | None
    replaced: bool

    @property
    def counts(self) -> bool:
        """Return whether the entry stands: neither replaced nor taken back."""
        return not self.replaced and not self.taken_back


def entries_of(session: Session, shop_id: UUID, person_id: UUID) -> Sequence[EntryRow]:
    """Return a person's entries, replaced ones too, newest day first."""
    return _rows(session, _entries(shop_id).where(LogbookEntry.person_id == person_id))


def waiting_entries(session: Session, shop_id: UUID) -> Sequence[EntryRow]:
    """Return a shop's practice work that counts and that no supervisor has confirmed."""
    waiting = _entries(shop_id).where(
        LogbookEntry.kind == EntryKind.PRACTICE,
        LogbookEntry.taken_back.is_(False),
        LogbookConfirmation.entry_id.is_(None),
        LogbookEntry.id.not_in(_superseded(shop_id)),
    )
    return _rows(session, waiting)


def entry(session: Session, shop_id: UUID, entry_id: UUID) -> EntryRow | None:
    """Return one entry, or None."""
    found = _rows(session, _entries(shop_id).where(LogbookEntry.id == entry_id))
    return found[0] if found else None


def _superseded(shop_id: UUID) -> Select[*tuple[Any, ...]]:
    return select(LogbookEntry.supersedes_id).where(
        LogbookEntry.shop_id == shop_id, LogbookEntry.supersedes_id.is_not(None)
    )


def _entries(shop_id: UUID) -> Select[*tuple[Any, ...]]:
    person, enterer, confirmer = aliased(Person), aliased(Person), aliased(Person)
    later = aliased(LogbookEntry)
    return (
        select(
            LogbookEntry,
            person.name.label("person_name"),
            enterer.name.label("enterer_name"),
            confirmer.name.label("confirmer_name"),
            LogbookConfirmation.confirmed_at,
            later.id.label("later_id"),
        )
        .join(person, person.id == LogbookEntry.person_id)
        .join(enterer, enterer.id == LogbookEntry.entered_by)
        .outerjoin(
            LogbookConfirmation,
            (LogbookConfirmation.shop_id == LogbookEntry.shop_id)
            & (LogbookConfirmation.entry_id == LogbookEntry.id),
        )
        .outerjoin(confirmer, confirmer.id == LogbookConfirmation.confirmed_by)
        .outerjoin(
            later,
            (later.shop_id == LogbookEntry.shop_id) & (later.supersedes_id == LogbookEntry.id),
        )
        .where(LogbookEntry.shop_id == shop_id)
        .order_by(LogbookEntry.worked_on.desc(), LogbookEntry.entered_at.desc(), LogbookEntry.id)
    )


def _rows(session: Session, query: Select[*tuple[Any, ...]]) -> list[EntryRow]:
    return [_row(row) for row in session.execute(query)]


def _row(row: Any) -> EntryRow:
    stored: LogbookEntry = row[0]
    return EntryRow(
        stored.id,
        stored.person_id,
        row.person_name,
        stored.kind,
        stored.subject_id,
        stored.stage,
        stored.worked_on,
        stored.worked_at,
        stored.note,
        row.enterer_name,
        stored.supersedes_id,
        stored.reason,
        stored.taken_back,
        row.confirmer_name,
        row.confirmed_at,
        row.later_id is not None,
    )
