"""Scored answers with the time they took, for the refresher gaps."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any
from uuid import UUID

from sqlalchemy import Row, Select, case, select
from sqlalchemy.orm import Session

from academy.domain.assessment.progress import Purpose
from academy.store.tables.study import Answer, Sitting, SittingQuestion


@dataclass(frozen=True, slots=True)
class ScoredRow:
    """One question of a submitted sitting: when and how well it was answered, and how long it took.

    ``seconds`` runs from the answer before it in the sitting, or from its
    beginning.  It is None where that is not known: on paper, and for the first of
    questions that somebody else has opened.
    """

    question_id: str
    at: datetime
    marks: int
    seconds: float | None


def scored_answers(session: Session, shop_id: UUID, person_id: UUID) -> Sequence[ScoredRow]:
    """Return a person's scored answers; practice is left out."""
    return _timed(session, _submitted(shop_id).where(Sitting.person_id == person_id), shop_id)


def seconds_of_right_answers(session: Session, shop_id: UUID) -> dict[str, tuple[float, ...]]:
    """Return how long right answers to each question took in a shop."""
    seconds: dict[str, list[float]] = defaultdict(list)
    for row in _timed(session, _submitted(shop_id), shop_id):
        if row.marks == 100 and row.seconds is not None:
            seconds[row.question_id].append(row.seconds)
    return {question_id: tuple(values) for question_id, values in seconds.items()}


def _submitted(shop_id: UUID) -> Select[*tuple[Any, ...]]:
    return (
        select(
            Sitting.id,
            case(
                (Sitting.begun_at.is_not(None), Sitting.begun_at),
                (Sitting.opened_by.is_(None), Sitting.opened_at),
            ),
            Sitting.submitted_at,
            SittingQuestion.question_id,
            SittingQuestion.marks,
        )
        .join(
            SittingQuestion,
            (SittingQuestion.shop_id == Sitting.shop_id)
            & (SittingQuestion.sitting_id == Sitting.id),
        )
        .where(
            Sitting.shop_id == shop_id,
            Sitting.submitted_at.is_not(None),
            Sitting.purpose != Purpose.PRACTICE,
            SittingQuestion.marks.is_not(None),
        )
        .order_by(Sitting.submitted_at, Sitting.id)
    )


def _timed(
    session: Session,
    query: Select[*tuple[Any, ...]],
    shop_id: UUID,
) -> Sequence[ScoredRow]:
    rows = session.execute(query).all()
    taken = _seconds(session, shop_id, {row[0]: row[1] for row in rows})
    return [_scored(row, taken) for row in rows]


def _scored(
    row: Row[*tuple[Any, ...]],
    taken: dict[tuple[UUID, str], tuple[datetime, float | None]],
) -> ScoredRow:
    sitting_id, _, submitted_at, question_id, marks = row
    at, seconds = taken.get((sitting_id, question_id), (submitted_at, None))
    return ScoredRow(question_id, at, marks, seconds)


def _seconds(
    session: Session, shop_id: UUID, begun: dict[UUID, datetime | None]
) -> dict[tuple[UUID, str], tuple[datetime, float | None]]:
    """Return when each question was last answered and how long since the answer before."""
    answers = session.execute(
        select(Answer.sitting_id, Answer.question_id, Answer.answered_at)
        .where(Answer.shop_id == shop_id, Answer.sitting_id.in_(begun))
        .order_by(Answer.sitting_id, Answer.number)
    )
    before = dict(begun)
    taken: dict[tuple[UUID, str], tuple[datetime, float | None]] = {}
    for sitting_id, question_id, answered_at in answers:
        since = before[sitting_id]
        seconds = (answered_at - since).total_seconds() if since else 0.0
        taken[sitting_id, question_id] = (answered_at, seconds or None)
        before[sitting_id] = answered_at
    return taken


@dataclass(frozen=True, slots=True)
class HandedOut:
    """The newest five questions of one person."""

    person_id: UUID
    opened_at: datetime
    submitted_at: datetime | None
    result: dict[str, Any] | None


def newest_of_each(session: Session, shop_id: UUID) -> dict[UUID, HandedOut]:
    """Return the newest refresher of each person of a shop."""
    rows = session.execute(
        select(Sitting.person_id, Sitting.opened_at, Sitting.submitted_at, Sitting.result)
        .where(Sitting.shop_id == shop_id, Sitting.purpose == Purpose.REFRESHER)
        .order_by(Sitting.opened_at, Sitting.id)
    )
    return {row.person_id: HandedOut(*row) for row in rows}


def handed_out(session: Session, shop_id: UUID, person_id: UUID) -> bool:
    """Return whether somebody has handed a person five questions that still wait."""
    waiting = select(Sitting.id).where(
        Sitting.shop_id == shop_id,
        Sitting.person_id == person_id,
        Sitting.purpose == Purpose.REFRESHER,
        Sitting.opened_by.is_not(None),
        Sitting.submitted_at.is_(None),
    )
    return session.scalar(waiting.limit(1)) is not None
