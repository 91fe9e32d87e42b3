"""The trainee objects to a closed record; somebody who neither taught nor assessed decides."""

from __future__ import annotations

from datetime import datetime
from uuid import UUID

from sqlalchemy import select
from sqlalchemy.orm import Session

from academy.domain.curriculum.course import Course
from academy.domain.people import Permission
from academy.domain.practical.counting import ObjectionState
from academy.domain.practical.objections import refuse_decision, refuse_objection
from academy.domain.practical.refusals import PracticalIsOpen
from academy.domain.practical.signatures import Meaning
from academy.keys.digests import new_salt, salted_digest
from academy.services import journal
from academy.services.actor import Actor, NotFound
from academy.services.practical_rows import locked_practical
from academy.services.standing import rewrite_standings
from academy.store.queries.judgement import involved_in_teaching, objection_to
from academy.store.tables.judgement import Objection


def raise_objection(
    session: Session,
    *,
    actor: Actor,
    objection_id: UUID,
    practical_id: UUID,
    reason: str,
    course: Course,
    now: datetime,
) -> None:
    """Object to the newest record of one's own practical; a known id is answered and not doubled.

    While it is open the practical is no evidence, neither for the trainee nor against.

    Raises
    ------
    NotYourRecord, AlreadyObjected, AlreadyAgreed, PracticalIsOpen
        Nothing is kept.
    """
    actor.require(Permission.SIGN_PRACTICAL)
    if session.get(Objection, (actor.shop_id, objection_id)) is not None:
        return
    stored = locked_practical(session, actor, practical_id)
    if stored.record is None:
        raise PracticalIsOpen()
    known = objection_to(session, actor.shop_id, stored.record.id)
    refuse_objection(
        actor.person_id,
        stored.practical.trainee_id,
        agreed=stored.has_signed(Meaning.AGREED),
        state=known.state if known else ObjectionState.NONE,
    )
    salt = new_salt()
    session.add(
        Objection(
            shop_id=actor.shop_id,
            id=objection_id,
            practical_id=practical_id,
            record_id=stored.record.id,
            raised_by=actor.person_id,
            raised_at=now,
            reason=reason,
            salt=salt,
            state=ObjectionState.OPEN,
        )
    )
    body = {
        "objection": str(objection_id),
        "record": stored.record.digest,
        "reason": salted_digest(salt, reason),
    }
    _keep(session, actor, "practical objected to", body, now)
    rewrite_standings(
        session, shop_id=actor.shop_id, person_id=actor.person_id, course=course, now=now
    )


def decide_objection(
    session: Session,
    *,
    actor: Actor,
    objection_id: UUID,
    decision: ObjectionState,
    why: str,
    course: Course,
    now: datetime,
) -> None:
    """Decide an objection: the record stands, is to be amended, or is set aside.

    Raises
    ------
    InvolvedInIt, ObjectionIsDecided, NotADecision
        Nothing is changed.
    """
    actor.require(Permission.DECIDE_OBJECTION)
    row = session.scalars(
        select(Objection)
        .where(Objection.shop_id == actor.shop_id, Objection.id == objection_id)
        .with_for_update()
    ).one_or_none()
    if row is None:
        raise NotFound()
    involved = involved_in_teaching(session, actor.shop_id, row.practical_id)
    refuse_decision(actor.person_id, involved, row.state, decision)
    row.state, row.decision = decision, why
    row.decided_by, row.decided_at = actor.person_id, now
    body = {
        "objection": str(objection_id),
        "decision": decision.value,
        "reason": salted_digest(row.salt, why),
    }
    _keep(session, actor, "objection decided", body, now)
    rewrite_standings(
        session, shop_id=actor.shop_id, person_id=row.raised_by, course=course, now=now
    )


def _keep(session: Session, actor: Actor, kind: str, body: dict[str, str], now: datetime) -> None:
    session.flush()
    journal.append(
        session, shop_id=actor.shop_id, actor_id=actor.person_id, kind=kind, body=body, at=now
    )
