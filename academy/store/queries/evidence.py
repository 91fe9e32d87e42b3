"""The evidence a scheme counts, straight from the rows it was written to."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime
from typing import Any
from uuid import UUID

from sqlalchemy import select
from sqlalchemy.orm import Session

from academy.domain.assessment.progress import DECIDING_A_MODULE
from academy.domain.certification.status import StatusWord
from academy.domain.curriculum.kinds import Supervision
from academy.domain.practical.counting import ObjectionState, SignedPractical
from academy.domain.practical.signatures import Meaning
from academy.domain.practical.stages import PracticalKind
from academy.store.queries.gauge_doubts import last_words
from academy.store.queries.gauges import suspect_practicals
from academy.store.tables.certification import StandingRow
from academy.store.tables.judgement import Objection
from academy.store.tables.practicals import Practical, Signature, SignedRecord
from academy.store.tables.study import Sitting


@dataclass(frozen=True, slots=True)
class SubmittedRow:
    """One submitted sitting that decides a module."""

    id: UUID
    person_id: UUID
    module_id: str
    purpose: str
    submitted_at: datetime
    result: dict[str, Any]


@dataclass(frozen=True, slots=True)
class SignedPracticalRow:
    """One practical with the newest record its supervisor has signed, and any objection to that."""

    practical_id: UUID
    trainee_id: UUID
    task_id: str
    kind: PracticalKind
    closed_at: datetime
    signed_at: datetime
    record: dict[str, Any]
    digest: str
    objection: ObjectionState = ObjectionState.NONE
    remeasure_by: date | None = None
    readings_refused: bool = False

    @property
    def facts(self) -> SignedPractical:
        """Return what decides whether it counts."""
        return SignedPractical(
            self.kind,
            self.record["outcome"],
            self.record["taken_over"],
            self.objection,
            self.remeasure_by,
            self.readings_refused,
        )


@dataclass(frozen=True, slots=True)
class StandingOfPerson:
    """One standing row as written with the evidence."""

    person_id: UUID
    scheme_id: str
    scheme_digest: str
    status: StatusWord
    level: Supervision
    certified: Supervision
    ready_for: Supervision | None
    next_level: Supervision | None
    missing: list[dict[str, Any]]
    to_renew: list[dict[str, Any]] | None
    held_back: list[dict[str, str]]
    valid_until: date | None
    sure_until: date | None
    by_trainer: bool


def deciding_sittings(
    session: Session, shop_id: UUID, person_id: UUID | None = None, module_id: str | None = None
) -> Sequence[SubmittedRow]:
    """Return the submitted sittings that decide a module, oldest first; of one person or of all."""
    query = select(
        Sitting.id,
        Sitting.person_id,
        Sitting.module_id,
        Sitting.purpose,
        Sitting.submitted_at,
        Sitting.result,
    ).where(
        Sitting.shop_id == shop_id,
        Sitting.purpose.in_(DECIDING_A_MODULE),
        Sitting.submitted_at.is_not(None),
    )
    if person_id is not None:
        query = query.where(Sitting.person_id == person_id)
    if module_id is not None:
        query = query.where(Sitting.module_id == module_id)
    rows = session.execute(query.order_by(Sitting.submitted_at, Sitting.id))
    return [SubmittedRow(*row) for row in rows]


def signed_practicals(
    session: Session, shop_id: UUID, person_id: UUID
) -> Sequence[SignedPracticalRow]:
    """Return a trainee's signed practicals, oldest first; each with its newest signed record."""
    doubts = {
        suspect.practical_id: suspect.doubt.remeasure_by
        for suspect in suspect_practicals(session, shop_id)
    }
    refused = {key for key, word in last_words(session, shop_id).items() if word.refused}
    query = (
        select(
            Practical.id,
            Practical.trainee_id,
            Practical.task_id,
            Practical.kind,
            Practical.closed_at,
            Signature.signed_at,
            SignedRecord.record,
            SignedRecord.digest,
            Objection.state,
        )
        .join(
            SignedRecord,
            (SignedRecord.shop_id == Practical.shop_id)
            & (SignedRecord.practical_id == Practical.id),
        )
        .join(
            Signature,
            (Signature.shop_id == SignedRecord.shop_id)
            & (Signature.record_id == SignedRecord.id)
            & (Signature.meaning == Meaning.ASSESSED),
        )
        .outerjoin(
            Objection,
            (Objection.shop_id == SignedRecord.shop_id) & (Objection.record_id == SignedRecord.id),
        )
        .where(Practical.shop_id == shop_id, Practical.trainee_id == person_id)
        .order_by(Practical.closed_at, Practical.id, SignedRecord.frozen_at)
    )
    rows = session.execute(query)
    newest = {row[0]: row for row in rows}  # a later record of the same practical takes its place
    return [
        replace(
            SignedPracticalRow(*fields),
            objection=objection or ObjectionState.NONE,
            remeasure_by=doubts.get(fields[0]),
            readings_refused=fields[0] in refused,
        )
        for *fields, objection in newest.values()
    ]


def standing_rows(
    session: Session, shop_id: UUID, person_id: UUID | None = None
) -> Sequence[StandingOfPerson]:
    """Return the standing rows of a shop, or of one person in it."""
    query = select(
        StandingRow.person_id,
        StandingRow.scheme_id,
        StandingRow.scheme_digest,
        StandingRow.status,
        StandingRow.level,
        StandingRow.certified,
        StandingRow.ready_for,
        StandingRow.next_level,
        StandingRow.missing,
        StandingRow.to_renew,
        StandingRow.held_back,
        StandingRow.valid_until,
        StandingRow.sure_until,
        StandingRow.by_trainer,
    ).where(StandingRow.shop_id == shop_id)
    if person_id is not None:
        query = query.where(StandingRow.person_id == person_id)
    return [StandingOfPerson(*row) for row in session.execute(query)]
