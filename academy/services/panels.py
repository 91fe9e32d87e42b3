"""Preparing defects in a section."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from uuid import UUID

from sqlalchemy.orm import Session

from academy.domain.people import Permission
from academy.services.actor import Actor, NotFound
from academy.store.tables.panel_work import PreparedDefect
from academy.store.tables.workshop import Section


@dataclass(frozen=True, slots=True)
class NewDefect:
    """A defect made on purpose; severity is 1 (light) to 3 (deep)."""

    id: UUID
    section_id: UUID
    defect: str
    how_made: str
    severity: int
    photograph_digest: str | None = None


def prepare_defect(session: Session, *, actor: Actor, new: NewDefect, now: datetime) -> UUID:
    """Note a prepared defect; a known id is answered and not doubled."""
    actor.require(Permission.WRITE_WORKSHOP)
    if session.get(Section, (actor.shop_id, new.section_id)) is None:
        raise NotFound()
    if session.get(PreparedDefect, (actor.shop_id, new.id)) is None:
        session.add(
            PreparedDefect(
                shop_id=actor.shop_id,
                id=new.id,
                section_id=new.section_id,
                defect=new.defect,
                how_made=new.how_made,
                severity=new.severity,
                photograph_digest=new.photograph_digest,
                made_at=now,
                made_by=actor.person_id,
            )
        )
    return new.id
