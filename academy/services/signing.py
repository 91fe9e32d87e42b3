"""Closing freezes the record at the panel; signing binds a person's proof to its digest."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from uuid import UUID, uuid4

from sqlalchemy.orm import Session

from academy.domain.curriculum.course import Course
from academy.domain.people import Permission, may_sign
from academy.domain.practical.outcome import judged
from academy.domain.practical.record import Practical, close
from academy.domain.practical.refusals import PracticalIsOpen, PracticalIsSigned
from academy.domain.practical.signatures import Meaning
from academy.domain.sentences import TradeError
from academy.services import journal
from academy.services.actor import Actor, Proof
from academy.services.practical_record import FrozenRecord, freeze
from academy.services.practical_rows import locked_practical, own_practical
from academy.services.standing import rewrite_standings
from academy.store.queries.people import member
from academy.store.queries.practicals import StoredPractical
from academy.store.tables.practicals import Practical as PracticalRow
from academy.store.tables.practicals import Signature, SignedRecord


@dataclass(eq=False)
class ProofIsSomebodyElses(TradeError):
    """The password proved another person."""

    template = "This password belongs to somebody who does not sign this record"


def close_practical(
    session: Session, *, actor: Actor, practical_id: UUID, now: datetime
) -> FrozenRecord:
    """Freeze the record at the panel; closing twice gives the first record."""
    stored = own_practical(session, actor, practical_id)
    if stored.record is not None:
        return stored.record
    return keep_record(
        session, actor, stored, close(stored.practical, now), "practical closed", now
    )


def keep_record(
    session: Session,
    actor: Actor,
    stored: StoredPractical,
    closed: Practical,
    kind: str,
    now: datetime,
) -> FrozenRecord:
    """Keep the frozen record of a practical that has just ended, and say so in the journal."""
    frozen = freeze(stored, closed, judged(closed, stored.gauge))
    session.add(
        SignedRecord(
            shop_id=actor.shop_id,
            id=frozen.id,
            practical_id=closed.id,
            record=frozen.record,
            digest=frozen.digest,
            salts=frozen.salts,
            frozen_at=now,
        )
    )
    session.get_one(PracticalRow, (actor.shop_id, closed.id)).closed_at = now
    journal.append(
        session,
        shop_id=actor.shop_id,
        actor_id=actor.person_id,
        kind=kind,
        body={"practical": str(closed.id), "record": frozen.digest},
        at=now,
    )
    return frozen


def sign_practical(
    session: Session,
    *,
    actor: Actor,
    practical_id: UUID,
    proof: Proof,
    course: Course,
    now: datetime,
) -> None:
    """Sign a closed record as the supervisor who assessed it.

    ``proof`` is a person who has just proved their password on this device; it
    need not be the person signed in, so two people can sign on one device.
    """
    actor.require(Permission.SIGN_PRACTICAL)
    stored = locked_practical(session, actor, practical_id)
    if not may_sign(proof.person_id, stored.practical.trainee_id, stored.practical.supervisor_id):
        raise ProofIsSomebodyElses()
    if stored.signed_at is not None:
        raise PracticalIsSigned()
    _write_signature(session, actor.shop_id, stored, proof, Meaning.ASSESSED, now)
    session.get_one(PracticalRow, (actor.shop_id, practical_id)).signed_at = now
    rewrite_standings(
        session,
        shop_id=actor.shop_id,
        person_id=stored.practical.trainee_id,
        course=course,
        now=now,
    )


def countersign_practical(
    session: Session, *, actor: Actor, practical_id: UUID, proof: Proof, now: datetime
) -> None:
    """Countersign a closed record as its trainee; signing again changes nothing."""
    actor.require(Permission.SIGN_PRACTICAL)
    stored = locked_practical(session, actor, practical_id)
    if proof.person_id != stored.practical.trainee_id:
        raise ProofIsSomebodyElses()
    if not any(signature.meaning == Meaning.AGREED for signature in stored.signatures):
        _write_signature(session, actor.shop_id, stored, proof, Meaning.AGREED, now)


def _write_signature(
    session: Session,
    shop_id: UUID,
    stored: StoredPractical,
    proof: Proof,
    meaning: Meaning,
    now: datetime,
) -> None:
    if stored.record is None:
        raise PracticalIsOpen()
    if member(session, shop_id, proof.person_id) is None:  # who has left signs nothing here
        raise ProofIsSomebodyElses()
    session.add(
        Signature(
            shop_id=shop_id,
            id=uuid4(),
            record_id=stored.record.id,
            record_digest=stored.record.digest,
            person_id=proof.person_id,
            meaning=meaning,
            signed_at=now,
            proved_by=proof.by,
        )
    )
    session.flush()
    journal.append(
        session,
        shop_id=shop_id,
        actor_id=proof.person_id,
        kind="practical signed",
        body={
            "practical": str(stored.practical.id),
            "record": stored.record.digest,
            "meaning": meaning,
        },
        at=now,
    )
