"""The journal of a shop: an append-only chain over RFC 8785 bytes.

An entry is written in the transaction of what it records.  Its bytes hold
random ids and digests only, no name and no free text.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Any
from uuid import UUID

from sqlalchemy import select
from sqlalchemy.orm import Session

from academy.keys.digests import canonical
from academy.store.tables.journal import JournalEntry, JournalHead

PREFIX = b"shop-journal-1\0"
NOTHING_BEFORE = "0" * 64


@dataclass(frozen=True, slots=True)
class Link:
    """The fields of an entry that its hash covers."""

    shop_id: UUID
    number: int
    at: datetime
    actor_id: UUID | None
    kind: str
    body: Mapping[str, Any]
    previous: str

    @property
    def hash(self) -> str:
        """Return SHA-256 over the prefix and the canonical bytes."""
        return hashlib.sha256(PREFIX + canonical(self._plain())).hexdigest()

    def _plain(self) -> dict[str, Any]:
        return {
            "shop": str(self.shop_id),
            "number": self.number,
            "at": self.at.isoformat(timespec="microseconds"),
            "actor": str(self.actor_id) if self.actor_id else None,
            "kind": self.kind,
            "body": dict(self.body),
            "previous": self.previous,
        }


def start_journal(session: Session, shop_id: UUID) -> None:
    """Lay the head row of a new shop's journal."""
    session.add(JournalHead(shop_id=shop_id, size=0, head=NOTHING_BEFORE))
    session.flush()


def append(
    session: Session,
    *,
    shop_id: UUID,
    actor_id: UUID | None,
    kind: str,
    body: Mapping[str, Any],
    at: datetime,
) -> str:
    """Append one entry and return its hash.  The head row is locked until commit."""
    head = session.execute(
        select(JournalHead).where(JournalHead.shop_id == shop_id).with_for_update()
    ).scalar_one()
    link = Link(shop_id, head.size + 1, at, actor_id, kind, body, head.head)
    session.add(
        JournalEntry(
            shop_id=shop_id,
            number=link.number,
            at=at,
            actor_id=actor_id,
            kind=kind,
            body=dict(body),
            previous=link.previous,
            hash=link.hash,
        )
    )
    head.size, head.head = link.number, link.hash
    session.flush()
    return link.hash


@dataclass(frozen=True, slots=True)
class JournalCheck:
    """Whether a journal is whole; ``broken_at`` is the first entry that does not fit."""

    entries: int
    broken_at: int | None

    @property
    def whole(self) -> bool:
        """Return whether every entry fits the one before it and the head."""
        return self.broken_at is None


def check_journal(session: Session, shop_id: UUID) -> JournalCheck:
    """Recompute the chain of a shop from its first entry to the head."""
    head = session.get_one(JournalHead, shop_id)
    entries = session.scalars(
        select(JournalEntry).where(JournalEntry.shop_id == shop_id).order_by(JournalEntry.number)
    ).all()
    broken = _first_broken(entries)
    if broken is None and (len(entries) != head.size or _last_hash(entries) != head.head):
        broken = len(entries) + 1
    return JournalCheck(len(entries), broken)


def _first_broken(entries: Iterable[JournalEntry]) -> int | None:
    previous = NOTHING_BEFORE
    for number, entry in enumerate(entries, 1):
        link = Link(
            entry.shop_id, number, entry.at, entry.actor_id, entry.kind, entry.body, previous
        )
        if entry.number != number or entry.hash != link.hash or entry.previous != previous:
            return number
        previous = entry.hash
    return None


def _last_hash(entries: Iterable[JournalEntry]) -> str:
    last = NOTHING_BEFORE
    for entry in entries:
        last = entry.hash
    return last
