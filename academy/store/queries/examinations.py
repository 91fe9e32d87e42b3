"""Examinations of a shop, spoken answers, paper entries, and questions that were questioned."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any
from uuid import UUID

from sqlalchemy import Select, func, select
from sqlalchemy.orm import Session, aliased

from academy.domain.assessment.progress import Purpose
from academy.store.tables.examinations import Dispute, PaperEntry, PriorExperience, SpokenAnswer
from academy.store.tables.people import Person
from academy.store.tables.study import Sitting, SittingQuestion


@dataclass(frozen=True, slots=True)
class ExaminationRow:
    """One examination in a list."""

    id: UUID
    person_id: UUID
    person_name: str
    opened_by: UUID
    opened_by_name: str
    scheme_id: str
    conditions: dict[str, Any]
    opened_at: datetime
    begun_at: datetime | None
    submitted_at: datetime | None
    passed: bool | None

    @property
    def held(self) -> bool:
        """Return whether the result waits for spoken answers."""
        return self.submitted_at is not None and self.passed is None


@dataclass(frozen=True, slots=True)
class SubmittedExamination:
    """One submitted examination of a person."""

    id: UUID
    scheme_id: str
    submitted_at: datetime
    result: dict[str, Any]
    passed: bool | None


@dataclass(frozen=True, slots=True)
class SpokenRow:
    """One spoken answer."""

    spoken_id: str
    question: dict[str, Any]
    answer: str
    satisfactory: bool
    asked_at: datetime


@dataclass(frozen=True, slots=True)
class PaperRow:
    """One person's reading of a paper."""

    id: UUID
    entered_by: UUID
    responses: dict[str, Any]
    entered_at: datetime


@dataclass(frozen=True, slots=True)
class DisputeRow:
    """One question that was questioned."""

    id: UUID
    sitting_id: UUID
    question_id: str
    question_digest: str
    raised_by: UUID
    raised_by_name: str
    raised_at: datetime
    reason: str
    decided_by: UUID | None
    decided_at: datetime | None
    voided: bool | None
    decision: str | None


def examinations(session: Session, shop_id: UUID) -> Sequence[ExaminationRow]:
    """Return a shop's examinations, newest first."""
    opener = aliased(Person)
    rows = session.execute(
        select(
            Sitting.id,
            Sitting.person_id,
            Person.name,
            Sitting.opened_by,
            opener.name.label("opener"),
            Sitting.scheme_id,
            Sitting.examination,
            Sitting.opened_at,
            Sitting.begun_at,
            Sitting.submitted_at,
            Sitting.passed,
        )
        .join(Person, Person.id == Sitting.person_id)
        .join(opener, opener.id == Sitting.opened_by)
        .where(Sitting.shop_id == shop_id, Sitting.purpose == Purpose.EXAMINATION)
        .order_by(Sitting.opened_at.desc(), Sitting.id)
    )
    return [ExaminationRow(*row) for row in rows]


@dataclass(frozen=True, slots=True)
class StoredSitting:
    """One sitting of the shop as somebody other than its person has to see it."""

    person_id: UUID
    opened_by: UUID | None
    module_id: str
    scheme_id: str | None
    purpose: str
    form: dict[str, Any]
    result: dict[str, Any] | None
    passed: bool | None


def sitting_in_shop(session: Session, shop_id: UUID, sitting_id: UUID) -> StoredSitting | None:
    """Return a sitting of the shop, whoever sat it, or None."""
    row = session.execute(
        select(
            Sitting.person_id,
            Sitting.opened_by,
            Sitting.module_id,
            Sitting.scheme_id,
            Sitting.purpose,
            Sitting.form,
            Sitting.result,
            Sitting.passed,
        ).where(Sitting.shop_id == shop_id, Sitting.id == sitting_id)
    ).one_or_none()
    return StoredSitting(*row) if row else None


def examination_begun(session: Session, shop_id: UUID, person_id: UUID) -> bool:
    """Return whether a person is sitting an examination now."""
    begun = select(Sitting.id).where(
        Sitting.shop_id == shop_id,
        Sitting.person_id == person_id,
        Sitting.begun_at.is_not(None),
        Sitting.submitted_at.is_(None),
    )
    return session.scalar(begun.limit(1)) is not None


def submitted_examinations(
    session: Session, shop_id: UUID, person_id: UUID
) -> Sequence[SubmittedExamination]:
    """Return a person's submitted examinations, oldest first."""
    rows = session.execute(
        select(Sitting.id, Sitting.scheme_id, Sitting.submitted_at, Sitting.result, Sitting.passed)
        .where(
            Sitting.shop_id == shop_id,
            Sitting.person_id == person_id,
            Sitting.purpose == Purpose.EXAMINATION,
            Sitting.submitted_at.is_not(None),
        )
        .order_by(Sitting.submitted_at, Sitting.id)
    )
    return [SubmittedExamination(*row) for row in rows]


def spoken_answers(session: Session, shop_id: UUID, sitting_id: UUID) -> Sequence[SpokenRow]:
    """Return the spoken answers of a sitting in the order asked."""
    rows = session.execute(
        select(
            SpokenAnswer.spoken_id,
            SpokenAnswer.question,
            SpokenAnswer.answer,
            SpokenAnswer.satisfactory,
            SpokenAnswer.asked_at,
        )
        .where(SpokenAnswer.shop_id == shop_id, SpokenAnswer.sitting_id == sitting_id)
        .order_by(SpokenAnswer.asked_at, SpokenAnswer.spoken_id)
    )
    return [SpokenRow(*row) for row in rows]


def paper_entries(session: Session, shop_id: UUID, sitting_id: UUID) -> Sequence[PaperRow]:
    """Return the readings of a paper."""
    rows = session.execute(
        select(PaperEntry.id, PaperEntry.entered_by, PaperEntry.responses, PaperEntry.entered_at)
        .where(PaperEntry.shop_id == shop_id, PaperEntry.sitting_id == sitting_id)
        .order_by(PaperEntry.entered_at)
    )
    return [PaperRow(*row) for row in rows]


def disputes(
    session: Session,
    shop_id: UUID,
    dispute_id: UUID | None = None,
    sitting_id: UUID | None = None,
) -> Sequence[DisputeRow]:
    """Return the questions that were questioned, open ones first."""
    query: Select[*tuple[Any, ...]] = (
        select(
            Dispute.id,
            Dispute.sitting_id,
            Dispute.question_id,
            Dispute.question_digest,
            Dispute.raised_by,
            Person.name,
            Dispute.raised_at,
            Dispute.reason,
            Dispute.decided_by,
            Dispute.decided_at,
            Dispute.voided,
            Dispute.decision,
        )
        .join(Person, Person.id == Dispute.raised_by)
        .where(Dispute.shop_id == shop_id)
        .order_by(Dispute.decided_at.is_not(None), Dispute.raised_at)
    )
    if dispute_id is not None:
        query = query.where(Dispute.id == dispute_id)
    if sitting_id is not None:
        query = query.where(Dispute.sitting_id == sitting_id)
    return [DisputeRow(*row) for row in session.execute(query)]


def voided_digests(session: Session, shop_id: UUID) -> frozenset[str]:
    """Return the wordings of questions that were voided in a shop."""
    return frozenset(
        session.scalars(
            select(Dispute.question_digest).where(
                Dispute.shop_id == shop_id, Dispute.voided.is_(True)
            )
        )
    )


@dataclass(frozen=True, slots=True)
class ExperienceRow:
    """What experience was recorded for a person."""

    person_name: str
    modules: list[str]
    statement: str
    recorded_by_name: str
    recorded_at: datetime


def experiences(session: Session, shop_id: UUID) -> Sequence[ExperienceRow]:
    """Return the prior experience recorded in a shop, newest first."""
    recorder = aliased(Person)
    rows = session.execute(
        select(
            Person.name,
            PriorExperience.modules,
            PriorExperience.statement,
            recorder.name.label("recorder"),
            PriorExperience.recorded_at,
        )
        .join(Person, Person.id == PriorExperience.person_id)
        .join(recorder, recorder.id == PriorExperience.recorded_by)
        .where(PriorExperience.shop_id == shop_id)
        .order_by(PriorExperience.recorded_at.desc(), PriorExperience.id)
    )
    return [ExperienceRow(*row) for row in rows]


def experienced_modules(session: Session, shop_id: UUID, person_id: UUID) -> frozenset[str]:
    """Return the modules whose lessons a person may skip on stated prior experience."""
    rows = session.scalars(
        select(PriorExperience.modules).where(
            PriorExperience.shop_id == shop_id, PriorExperience.person_id == person_id
        )
    )
    return frozenset(module for modules in rows for module in modules)


def times_seen_anywhere(session: Session, shop_id: UUID, person_id: UUID) -> dict[str, int]:
    """Return how many of a person's sittings held each question."""
    rows = session.execute(
        select(SittingQuestion.question_id, func.count().label("times"))
        .join(
            Sitting,
            (Sitting.shop_id == SittingQuestion.shop_id)
            & (Sitting.id == SittingQuestion.sitting_id),
        )
        .where(Sitting.shop_id == shop_id, Sitting.person_id == person_id)
        .group_by(SittingQuestion.question_id)
    )
    return {row.question_id: row.times for row in rows}
