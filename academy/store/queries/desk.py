"""What waits for a signature."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from uuid import UUID

from sqlalchemy import Exists, and_, case, or_, select
from sqlalchemy.orm import Session

from academy.domain.practical.counting import ObjectionState
from academy.domain.practical.signatures import Meaning
from academy.store.tables.judgement import Amendment, Objection
from academy.store.tables.people import Person
from academy.store.tables.practicals import Practical, Signature, SignedRecord


@dataclass(frozen=True, slots=True)
class Unsigned:
    """The newest record of a practical and one person who has not signed it."""

    practical_id: UUID
    person_id: UUID
    meaning: Meaning
    trainee_id: UUID
    supervisor_id: UUID


def unsigned(session: Session, shop_id: UUID) -> Sequence[Unsigned]:
    """Return every signature that is still missing in a shop, oldest record first.

    A trainee who objects is not asked to countersign; a record that was set
    aside is signed by nobody.
    """
    superseded = select(SignedRecord.supersedes_id).where(
        SignedRecord.shop_id == shop_id, SignedRecord.supersedes_id.is_not(None)
    )
    signer = case(
        (Amendment.amended_by.is_not(None), Amendment.amended_by), else_=Practical.supervisor_id
    )
    rows = session.execute(
        select(
            Practical.id,
            Practical.trainee_id,
            Practical.supervisor_id,
            signer,
            Objection.state,
            _signed(Meaning.ASSESSED),
            _signed(Meaning.AGREED),
        )
        .join(
            SignedRecord,
            and_(
                SignedRecord.shop_id == Practical.shop_id,
                SignedRecord.practical_id == Practical.id,
                SignedRecord.id.not_in(superseded),
            ),
        )
        .outerjoin(
            Amendment,
            (Amendment.shop_id == SignedRecord.shop_id) & (Amendment.record_id == SignedRecord.id),
        )
        .outerjoin(
            Objection,
            (Objection.shop_id == SignedRecord.shop_id) & (Objection.record_id == SignedRecord.id),
        )
        .where(
            Practical.shop_id == shop_id,
            or_(Objection.state.is_(None), Objection.state != ObjectionState.SET_ASIDE),
        )
        .order_by(SignedRecord.frozen_at, Practical.id)
    )
    found = []
    for practical_id, trainee, supervisor, signs, objection, assessed, agreed in rows:
        if not assessed:
            found.append(Unsigned(practical_id, signs, Meaning.ASSESSED, trainee, supervisor))
        if not agreed and objection in {None, ObjectionState.NOT_UPHELD}:
            found.append(Unsigned(practical_id, trainee, Meaning.AGREED, trainee, supervisor))
    return found


def sign_in_name(session: Session, person_id: UUID) -> str:
    """Return the name a person signs in with."""
    return session.scalars(select(Person.sign_in_name).where(Person.id == person_id)).one()


def _signed(meaning: Meaning) -> Exists:
    return (
        select(Signature.id)
        .where(
            Signature.shop_id == SignedRecord.shop_id,
            Signature.record_id == SignedRecord.id,
            Signature.meaning == meaning,
        )
        .exists()
    )
