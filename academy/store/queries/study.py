"""What a person has studied and which sitting is open."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any
from uuid import UUID

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from academy.store.tables.study import Answer, LessonRead, Sitting, SittingQuestion

_OF_SITTING = (SittingQuestion.shop_id == Sitting.shop_id) & (
    SittingQuestion.sitting_id == Sitting.id
)


@dataclass(frozen=True, slots=True)
class SittingRow:
    """One sitting as stored."""

    id: UUID
    person_id: UUID
    module_id: str
    purpose: str
    form: dict[str, Any]
    opened_at: datetime
    submitted_at: datetime | None
    result: dict[str, Any] | None
    passed: bool | None
    scheme_id: str | None
    examination: dict[str, Any] | None
    begun_at: datetime | None


@dataclass(frozen=True, slots=True)
class SittingSummary:
    """One sitting in a list."""

    id: UUID
    module_id: str
    purpose: str
    opened_at: datetime
    submitted_at: datetime | None
    passed: bool | None


@dataclass(frozen=True, slots=True)
class OpenForm:
    """The form of a sitting that is not handed in."""

    purpose: str
    module_id: str
    begun_at: datetime | None
    form: dict[str, Any]


def lessons_read(session: Session, shop_id: UUID, person_id: UUID) -> dict[str, str]:
    """Return the digest last studied of each lesson, by ``module/lesson``."""
    rows = session.execute(
        select(LessonRead.module_id, LessonRead.lesson_id, LessonRead.lesson_digest)
        .where(LessonRead.shop_id == shop_id, LessonRead.person_id == person_id)
        .order_by(LessonRead.finished_at)
    )
    return {f"{row.module_id}/{row.lesson_id}": row.lesson_digest for row in rows}


def lessons_read_since(
    session: Session, shop_id: UUID, person_id: UUID, since: datetime
) -> frozenset[str]:
    """Return the lessons a person has studied after a moment, as ``module/lesson``."""
    rows = session.execute(
        select(LessonRead.module_id, LessonRead.lesson_id).where(
            LessonRead.shop_id == shop_id,
            LessonRead.person_id == person_id,
            LessonRead.finished_at >= since,
        )
    )
    return frozenset(f"{row.module_id}/{row.lesson_id}" for row in rows)


def sitting(
    session: Session, shop_id: UUID, person_id: UUID, sitting_id: UUID
) -> SittingRow | None:
    """Return a person's own sitting, or None."""
    row = session.execute(
        select(
            Sitting.id,
            Sitting.person_id,
            Sitting.module_id,
            Sitting.purpose,
            Sitting.form,
            Sitting.opened_at,
            Sitting.submitted_at,
            Sitting.result,
            Sitting.passed,
            Sitting.scheme_id,
            Sitting.examination,
            Sitting.begun_at,
        ).where(
            Sitting.shop_id == shop_id,
            Sitting.id == sitting_id,
            Sitting.person_id == person_id,
            Sitting.withdrawn_at.is_(None),
        )
    ).one_or_none()
    return SittingRow(*row) if row else None


def sittings_of(session: Session, shop_id: UUID, person_id: UUID) -> Sequence[SittingSummary]:
    """Return a person's sittings, newest first."""
    rows = session.execute(
        select(
            Sitting.id,
            Sitting.module_id,
            Sitting.purpose,
            Sitting.opened_at,
            Sitting.submitted_at,
            Sitting.passed,
        )
        .where(
            Sitting.shop_id == shop_id,
            Sitting.person_id == person_id,
            Sitting.withdrawn_at.is_(None),
        )
        .order_by(Sitting.opened_at.desc(), Sitting.id)
    )
    return [SittingSummary(*row) for row in rows]


def open_sitting_of(
    session: Session,
    shop_id: UUID,
    person_id: UUID,
    module_id: str | None = None,
    purposes: Collection[str] | None = None,
) -> SittingSummary | None:
    """Return the newest sitting a person has not submitted, of these purposes, or None."""
    return next(
        (
            summary
            for summary in sittings_of(session, shop_id, person_id)
            if summary.submitted_at is None
            and module_id in {None, summary.module_id}
            and (purposes is None or summary.purpose in purposes)
        ),
        None,
    )


def open_forms(session: Session, person_id: UUID, purposes: Collection[str]) -> Sequence[OpenForm]:
    """Return every form a person has open, in whichever shop."""
    rows = session.execute(
        select(Sitting.purpose, Sitting.module_id, Sitting.begun_at, Sitting.form).where(
            Sitting.person_id == person_id,
            Sitting.submitted_at.is_(None),
            Sitting.withdrawn_at.is_(None),
            Sitting.purpose.in_(purposes),
        )
    )
    return [OpenForm(*row) for row in rows]


def responses(session: Session, shop_id: UUID, sitting_id: UUID) -> dict[str, dict[str, Any]]:
    """Return the latest response to each question of a sitting."""
    rows = session.execute(
        select(Answer.question_id, Answer.response)
        .where(Answer.shop_id == shop_id, Answer.sitting_id == sitting_id)
        .order_by(Answer.number)
    )
    return {row.question_id: row.response for row in rows}


def last_answer_number(session: Session, shop_id: UUID, sitting_id: UUID) -> int:
    """Return the number of the newest answer of a sitting, 0 for none."""
    highest = session.scalar(
        select(func.max(Answer.number)).where(
            Answer.shop_id == shop_id, Answer.sitting_id == sitting_id
        )
    )
    return highest or 0


def newest_answer_number(
    session: Session, shop_id: UUID, sitting_id: UUID, question_id: str
) -> int:
    """Return the number of the newest answer to one question, 0 for none."""
    newest = session.scalar(
        select(func.max(Answer.number)).where(
            Answer.shop_id == shop_id,
            Answer.sitting_id == sitting_id,
            Answer.question_id == question_id,
        )
    )
    return newest or 0


def times_seen(session: Session, shop_id: UUID, person_id: UUID) -> dict[str, int]:
    """Return how many of a person's sittings held each question, whatever they were for."""
    rows = session.execute(
        select(SittingQuestion.question_id, func.count().label("times"))
        .join(Sitting, _OF_SITTING)
        .where(Sitting.shop_id == shop_id, Sitting.person_id == person_id)
        .group_by(SittingQuestion.question_id)
    )
    return {row.question_id: row.times for row in rows}


def last_form(
    session: Session,
    shop_id: UUID,
    person_id: UUID,
    purposes: Collection[str],
    module_id: str = "",
    scheme_id: str | None = None,
) -> frozenset[str]:
    """Return the questions of the form a person was last given of a quiz or an examination."""
    newest = (
        select(Sitting.id)
        .where(
            Sitting.shop_id == shop_id,
            Sitting.person_id == person_id,
            Sitting.purpose.in_(purposes),
            Sitting.module_id == module_id,
            Sitting.scheme_id == scheme_id,
        )
        .order_by(Sitting.opened_at.desc(), Sitting.id)
        .limit(1)
        .scalar_subquery()
    )
    return frozenset(
        session.scalars(
            select(SittingQuestion.question_id).where(
                SittingQuestion.shop_id == shop_id, SittingQuestion.sitting_id == newest
            )
        )
    )
