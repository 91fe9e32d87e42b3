"""What follows a closed record: every record of a practical, objections, second judgements."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any
from uuid import UUID

from sqlalchemy import select
from sqlalchemy.orm import Session, aliased

from academy.domain.practical.counting import ObjectionState
from academy.domain.practical.stages import PracticalKind
from academy.store.tables.judgement import Amendment, Objection, SecondJudgement
from academy.store.tables.people import Person
from academy.store.tables.practicals import Practical, Signature, SignedRecord


@dataclass(frozen=True, slots=True)
class SignatureRow:
    """One signature under one record."""

    record_id: UUID
    name: str
    meaning: str
    signed_at: datetime
    late_reason: str | None


@dataclass(frozen=True, slots=True)
class ObjectionRow:
    """An objection with the names of who raised and who decided it."""

    id: UUID
    practical_id: UUID
    record_id: UUID
    raised_by: UUID
    raised_by_name: str
    raised_at: datetime
    reason: str
    state: ObjectionState
    decided_by_name: str | None
    decided_at: datetime | None
    decision: str | None
    task_title: str


@dataclass(frozen=True, slots=True)
class RecordRow:
    """One record of a practical; the newest is the last."""

    signatures: tuple[SignatureRow, ...]
    id: UUID
    record: Mapping[str, Any]
    digest: str
    frozen_at: datetime
    trainee_present: bool | None
    absence_reason: str | None
    amended_by_name: str | None
    amendment_reason: str | None


@dataclass(frozen=True, slots=True)
class SecondRow:
    """One drawn practical and, once it is given, its second judgement."""

    id: UUID
    practical_id: UUID
    record_id: UUID
    drawn_at: datetime
    seen_by: tuple[UUID, ...]
    answers: Mapping[str, str] | None
    judged_by_name: str | None
    judged_at: datetime | None
    task_title: str
    trainee_id: UUID
    trainee_name: str
    supervisor_id: UUID
    first: Mapping[str, bool]

    def could_judge(self, person_id: UUID) -> bool:
        """Return whether it waits for somebody like this: not at the panel, and has not looked."""
        involved = {self.trainee_id, self.supervisor_id, *self.seen_by}
        return self.judged_at is None and person_id not in involved


def records_of(session: Session, shop_id: UUID, practical_id: UUID) -> Sequence[RecordRow]:
    """Return every record of a practical with its signatures, oldest first."""
    signatures = _signatures(session, shop_id, practical_id)
    rows = session.execute(
        select(
            SignedRecord.id,
            SignedRecord.record,
            SignedRecord.digest,
            SignedRecord.frozen_at,
            SignedRecord.trainee_present,
            SignedRecord.absence_reason,
            Person.name,
            Amendment.reason,
        )
        .outerjoin(
            Amendment,
            (Amendment.shop_id == SignedRecord.shop_id) & (Amendment.record_id == SignedRecord.id),
        )
        .outerjoin(Person, Person.id == Amendment.amended_by)
        .where(SignedRecord.shop_id == shop_id, SignedRecord.practical_id == practical_id)
        .order_by(SignedRecord.frozen_at, SignedRecord.id)
    )
    return [RecordRow(tuple(s for s in signatures if s.record_id == row[0]), *row) for row in rows]


def _signatures(session: Session, shop_id: UUID, practical_id: UUID) -> list[SignatureRow]:
    rows = session.execute(
        select(
            Signature.record_id,
            Person.name,
            Signature.meaning,
            Signature.signed_at,
            Signature.late_reason,
        )
        .join(Person, Person.id == Signature.person_id)
        .join(
            SignedRecord,
            (SignedRecord.shop_id == Signature.shop_id) & (SignedRecord.id == Signature.record_id),
        )
        .where(Signature.shop_id == shop_id, SignedRecord.practical_id == practical_id)
        .order_by(Signature.signed_at, Signature.id)
    )
    return [SignatureRow(*row) for row in rows]


def objections(
    session: Session,
    shop_id: UUID,
    *,
    objection_id: UUID | None = None,
    practical_id: UUID | None = None,
) -> Sequence[ObjectionRow]:
    """Return a shop's objections, undecided ones first, then the newest."""
    raised, decided = aliased(Person), aliased(Person)
    query = (
        select(Objection, raised.name, decided.name, Practical.task)
        .join(raised, raised.id == Objection.raised_by)
        .outerjoin(decided, decided.id == Objection.decided_by)
        .join(
            Practical,
            (Practical.shop_id == Objection.shop_id) & (Practical.id == Objection.practical_id),
        )
        .where(Objection.shop_id == shop_id)
        .order_by(Objection.decided_at.is_not(None), Objection.raised_at.desc())
    )
    if objection_id is not None:
        query = query.where(Objection.id == objection_id)
    if practical_id is not None:
        query = query.where(Objection.practical_id == practical_id)
    return [
        ObjectionRow(
            row.id, row.practical_id, row.record_id, row.raised_by, raised_name, row.raised_at,
            row.reason, row.state, decided_name, row.decided_at, row.decision,
            task["task"]["title"],
        )
        for row, raised_name, decided_name, task in session.execute(query)
    ]  # fmt: skip


def objection_to(session: Session, shop_id: UUID, record_id: UUID) -> Objection | None:
    """Return the objection to one record, or None."""
    return session.scalars(
        select(Objection).where(Objection.shop_id == shop_id, Objection.record_id == record_id)
    ).one_or_none()


def involved_in_teaching(session: Session, shop_id: UUID, practical_id: UUID) -> frozenset[UUID]:
    """Return the trainee, whoever assessed or amended, and whoever coached the trainee at this task."""
    practical = session.get_one(Practical, (shop_id, practical_id))
    coaches = session.scalars(
        select(Practical.supervisor_id).where(
            Practical.shop_id == shop_id,
            Practical.trainee_id == practical.trainee_id,
            Practical.task_id == practical.task_id,
            Practical.kind == PracticalKind.COACHED,
        )
    )
    amenders = session.scalars(
        select(Amendment.amended_by)
        .join(
            SignedRecord,
            (SignedRecord.shop_id == Amendment.shop_id) & (SignedRecord.id == Amendment.record_id),
        )
        .where(Amendment.shop_id == shop_id, SignedRecord.practical_id == practical_id)
    )
    return frozenset({practical.trainee_id, practical.supervisor_id, *coaches, *amenders})


def second_judgements(
    session: Session,
    shop_id: UUID,
    *,
    judgement_id: UUID | None = None,
    practical_id: UUID | None = None,
) -> Sequence[SecondRow]:
    """Return a shop's drawn practicals, those that wait first, then the newest."""
    trainee, second = aliased(Person), aliased(Person)
    query = (
        select(SecondJudgement, Practical, trainee.name, second.name, SignedRecord.record)
        .join(
            Practical,
            (Practical.shop_id == SecondJudgement.shop_id)
            & (Practical.id == SecondJudgement.practical_id),
        )
        .join(
            SignedRecord,
            (SignedRecord.shop_id == SecondJudgement.shop_id)
            & (SignedRecord.id == SecondJudgement.record_id),
        )
        .join(trainee, trainee.id == Practical.trainee_id)
        .outerjoin(second, second.id == SecondJudgement.judged_by)
        .where(SecondJudgement.shop_id == shop_id)
        .order_by(SecondJudgement.judged_at.is_not(None), SecondJudgement.drawn_at.desc())
    )
    if judgement_id is not None:
        query = query.where(SecondJudgement.id == judgement_id)
    if practical_id is not None:
        query = query.where(SecondJudgement.practical_id == practical_id)
    return [
        SecondRow(
            row.id, row.practical_id, row.record_id, row.drawn_at,
            tuple(UUID(one) for one in row.seen_by), row.answers, second_name, row.judged_at,
            practical.task["task"]["title"], practical.trainee_id, trainee_name,
            practical.supervisor_id, record["criteria"],
        )
        for row, practical, trainee_name, second_name, record in session.execute(query)
    ]  # fmt: skip
