"""Closing freezes the record at the panel, with the trainee there."""

from __future__ import annotations

from datetime import datetime
from uuid import UUID

from sqlalchemy.orm import Session

from academy.domain.practical.outcome import judged
from academy.domain.practical.record import Practical, close
from academy.domain.practical.signatures import Presence, refuse_absence_without_reason
from academy.services import journal
from academy.services.actor import Actor
from academy.services.practical_record import FrozenRecord, Superseding, freeze
from academy.services.practical_rows import own_practical
from academy.services.reteaching import open_plan
from academy.store.queries.practicals import StoredPractical
from academy.store.tables.practicals import Practical as PracticalRow
from academy.store.tables.practicals import SignedRecord

THERE = Presence(present=True)


def close_practical(
    session: Session,
    *,
    actor: Actor,
    practical_id: UUID,
    now: datetime,
    presence: Presence = THERE,
) -> FrozenRecord:
    """Freeze the record at the panel; closing twice gives the first record.

    Raises
    ------
    AbsentWithoutReason
        The trainee is not there and nobody says why.
    StageNotReached
        A stage of the task is missing.
    """
    stored = own_practical(session, actor, practical_id)
    if stored.record is not None:
        return stored.record
    refuse_absence_without_reason(presence)
    closed = close(stored.practical, now)
    frozen = keep_record(session, actor, stored, closed, "practical closed", now, presence)
    session.flush()
    open_plan(session, actor, closed, judged(closed, stored.gauge), now)
    return frozen


def keep_record(
    session: Session,
    actor: Actor,
    stored: StoredPractical,
    closed: Practical,
    kind: str,
    now: datetime,
    presence: Presence | None = None,
    superseding: Superseding | None = None,
) -> FrozenRecord:
    """Keep the frozen record of a practical that has just ended or was amended; the journal says so."""
    outcome = judged(closed, stored.gauge)
    frozen = freeze(stored, closed, outcome, now, presence=presence, superseding=superseding)
    session.add(
        SignedRecord(
            shop_id=actor.shop_id,
            id=frozen.id,
            practical_id=closed.id,
            record=frozen.record,
            digest=frozen.digest,
            salts=frozen.salts,
            frozen_at=now,
            supersedes_id=superseding.record.id if superseding else None,
            trainee_present=presence.present if presence else None,
            absence_reason=presence.reason if presence else None,
        )
    )
    body = {"practical": str(closed.id), "record": frozen.digest}
    if superseding is None:
        session.get_one(PracticalRow, (actor.shop_id, closed.id)).closed_at = now
    else:
        body["supersedes"] = superseding.record.digest
    journal.append(
        session, shop_id=actor.shop_id, actor_id=actor.person_id, kind=kind, body=body, at=now
    )
    return frozen
