"""Examinations of a shop, spoken answers and what was entered from paper."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any
from uuid import UUID

from sqlalchemy import select
from sqlalchemy.orm import Session, aliased

from academy.domain.assessment.progress import Purpose
from academy.store.tables.examinations import PaperEntry, SpokenAnswer
from academy.store.tables.people import Person
from academy.store.tables.study import Sitting


@dataclass(frozen=True, slots=True)
class ExaminationRow:
    """One examination in a list."""

    id: UUID
    person_id: UUID
    person_name: str
    opened_by_name: str
    scheme_id: str
    conditions: dict[str, Any]
    opened_at: datetime
    begun_at: datetime | None
    submitted_at: datetime | None
    passed: bool | None
    withdrawn_at: datetime | None

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
    asked_by: UUID


@dataclass(frozen=True, slots=True)
class PaperRow:
    """One person's reading of a paper."""

    id: UUID
    entered_by: UUID
    responses: dict[str, Any]
    entered_at: datetime


@dataclass(frozen=True, slots=True)
class StoredSitting:
    """One sitting of the shop as somebody other than its person has to see it."""

    module_id: str
    scheme_id: str | None
    purpose: str
    form: dict[str, Any]


def examinations(session: Session, shop_id: UUID) -> Sequence[ExaminationRow]:
    """Return a shop's examinations, newest first."""
    newest_first = _examinations(shop_id).order_by(Sitting.opened_at.desc(), Sitting.id)
    return [ExaminationRow(*row) for row in session.execute(newest_first)]


def examination_row(session: Session, shop_id: UUID, examination_id: UUID) -> ExaminationRow | None:
    """Return one examination of the shop, or None."""
    row = session.execute(_examinations(shop_id).where(Sitting.id == examination_id)).one_or_none()
    return ExaminationRow(*row) if row else None


def _examinations(shop_id: UUID) -> Any:
    opener = aliased(Person)
    return (
        select(
            Sitting.id,
            Sitting.person_id,
            Person.name,
            opener.name.label("opener"),
            Sitting.scheme_id,
            Sitting.examination,
            Sitting.opened_at,
            Sitting.begun_at,
            Sitting.submitted_at,
            Sitting.passed,
            Sitting.withdrawn_at,
        )
        .join(Person, Person.id == Sitting.person_id)
        .join(opener, opener.id == Sitting.opened_by)
        .where(Sitting.shop_id == shop_id, Sitting.purpose == Purpose.EXAMINATION)
    )


def examination_conditions(
    session: Session, shop_id: UUID, sitting_id: UUID
) -> dict[str, Any] | None:
    """Return the conditions a sitting of the shop is held under; None where it is no examination."""
    return session.scalar(
        select(Sitting.examination).where(Sitting.shop_id == shop_id, Sitting.id == sitting_id)
    )


def sitting_in_shop(session: Session, shop_id: UUID, sitting_id: UUID) -> StoredSitting | None:
    """Return a sitting of the shop, whoever sat it, or None."""
    row = session.execute(
        select(
            Sitting.module_id,
            Sitting.scheme_id,
            Sitting.purpose,
            Sitting.form,
        ).where(Sitting.shop_id == shop_id, Sitting.id == sitting_id)
    ).one_or_none()
    return StoredSitting(*row) if row else None


def examination_waiting(session: Session, shop_id: UUID, person_id: UUID, scheme_id: str) -> bool:
    """Return whether an examination of a scheme is open for a person."""
    waiting = select(Sitting.id).where(
        Sitting.shop_id == shop_id,
        Sitting.person_id == person_id,
        Sitting.scheme_id == scheme_id,
        Sitting.submitted_at.is_(None),
        Sitting.withdrawn_at.is_(None),
    )
    return session.scalar(waiting.limit(1)) is not None


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
            SpokenAnswer.asked_by,
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
