"""Putting right what was typed wrong for a gauge, a foil, a machine or a panel."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from uuid import UUID

from sqlalchemy.orm import Session

from academy.domain.people import Permission
from academy.domain.workshop.corrections import (
    CORRECTABLE,
    AlreadyRight,
    Correctable,
    Corrected,
    CorrectedMeanwhile,
    NotCorrectable,
    as_written,
)
from academy.domain.workshop.measured_again import ReasonNeeded
from academy.keys.digests import new_salt, salted_digest
from academy.services import journal
from academy.services.actor import Actor, NotFound
from academy.store.queries.corrections import TABLES
from academy.store.tables.corrections import WorkshopCorrection


@dataclass(frozen=True, slots=True)
class NewCorrection:
    """One value of one entry; ``seen`` is what stood there when the page was opened."""

    id: UUID
    thing: Corrected
    thing_id: UUID
    field: str
    seen: str
    value: Correctable
    reason: str


def correct_entry(session: Session, *, actor: Actor, new: NewCorrection, now: datetime) -> None:
    """Change the value, keep the old one, and note both; a known id is answered and not doubled.

    Raises
    ------
    NotAllowed, NotFound, NotCorrectable, ReasonNeeded, CorrectedMeanwhile, AlreadyRight
        Nothing is changed.
    """
    actor.require(Permission.WRITE_WORKSHOP)
    if session.get(WorkshopCorrection, (actor.shop_id, new.id)) is not None:
        return
    row = session.get(TABLES[new.thing], (actor.shop_id, new.thing_id), with_for_update=True)
    if row is None:
        raise NotFound()
    if new.field not in CORRECTABLE[new.thing]:
        raise NotCorrectable()
    if not new.reason.strip():
        raise ReasonNeeded()
    before, after = as_written(getattr(row, new.field)), as_written(new.value)
    if before != new.seen:
        raise CorrectedMeanwhile(before)
    if before == after:
        raise AlreadyRight()
    setattr(row, new.field, new.value)
    _note(session, actor, new, before, now)


def _note(session: Session, actor: Actor, new: NewCorrection, before: str, now: datetime) -> None:
    after, reason, salt = as_written(new.value), new.reason.strip(), new_salt()
    session.add(
        WorkshopCorrection(
            shop_id=actor.shop_id,
            id=new.id,
            thing=new.thing,
            thing_id=new.thing_id,
            field=new.field,
            before=before,
            after=after,
            reason=reason,
            salt=salt,
            corrected_at=now,
            corrected_by=actor.person_id,
        )
    )
    session.flush()
    journal.append(
        session,
        shop_id=actor.shop_id,
        actor_id=actor.person_id,
        kind="entry corrected",
        body={
            "thing": new.thing.value,
            "id": str(new.thing_id),
            "field": new.field,
            "values": salted_digest(salt, "\n".join((before, after, reason))),
        },
        at=now,
    )
