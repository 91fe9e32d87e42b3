"""Rounds of ratings, the ratings in force, and what was decided about questions to mend."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any
from uuid import UUID

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from academy.domain.assessment.mending_notes import Mending
from academy.domain.assessment.re_rating import RatedQuestion, RoundStage
from academy.domain.curriculum.frozen import question_from_frozen
from academy.domain.curriculum.questions import Question
from academy.store.tables.people import Person
from academy.store.tables.question_quality import (
    MendingNote,
    QuestionRating,
    RatingRound,
    RatingRoundQuestion,
    RatingRoundRater,
)


@dataclass(frozen=True, slots=True)
class RoundRow:
    """One round."""

    id: UUID
    module_id: str
    opened_at: datetime
    shown_at: datetime | None
    taken_over_at: datetime | None

    @property
    def stage(self) -> RoundStage:
        """Return where the round stands."""
        if self.taken_over_at is not None:
            return RoundStage.DONE
        return RoundStage.ALONE if self.shown_at is None else RoundStage.TALK


@dataclass(frozen=True, slots=True)
class RaterRow:
    """A supervisor who was asked."""

    person_id: UUID
    name: str


@dataclass(frozen=True, slots=True)
class NoteRow:
    """What was decided about a wording."""

    question_id: str
    wording: str
    mending: Mending
    reason: str
    noted_by_name: str
    noted_at: datetime


Ratings = dict[UUID, dict[str, int]]


def rounds(session: Session, shop_id: UUID, rater: UUID | None = None) -> Sequence[RoundRow]:
    """Return a shop's rounds, newest first; only those a person was asked in where one is given."""
    newest_first = _rounds(shop_id, rater).order_by(RatingRound.opened_at.desc(), RatingRound.id)
    return [RoundRow(*row) for row in session.execute(newest_first)]


def round_row(
    session: Session, shop_id: UUID, round_id: UUID, rater: UUID | None = None
) -> RoundRow | None:
    """Return one round, or None; only one a person was asked in where one is given."""
    row = session.execute(_rounds(shop_id, rater).where(RatingRound.id == round_id)).one_or_none()
    return RoundRow(*row) if row else None


def _rounds(shop_id: UUID, rater: UUID | None) -> Any:
    query = select(
        RatingRound.id,
        RatingRound.module_id,
        RatingRound.opened_at,
        RatingRound.shown_at,
        RatingRound.taken_over_at,
    ).where(RatingRound.shop_id == shop_id)
    if rater is None:
        return query
    asked = select(RatingRoundRater.round_id).where(
        RatingRoundRater.shop_id == shop_id, RatingRoundRater.person_id == rater
    )
    return query.where(RatingRound.id.in_(asked))


def round_questions(session: Session, shop_id: UUID, round_id: UUID) -> tuple[Question, ...]:
    """Return the questions of a round as they were worded, with the author's ratings."""
    rows = session.scalars(
        select(RatingRoundQuestion.question)
        .where(RatingRoundQuestion.shop_id == shop_id, RatingRoundQuestion.round_id == round_id)
        .order_by(RatingRoundQuestion.position)
    )
    return tuple(question_from_frozen(row) for row in rows)


def raters(session: Session, shop_id: UUID, round_id: UUID) -> Sequence[RaterRow]:
    """Return who was asked to rate, by name."""
    rows = session.execute(
        select(RatingRoundRater.person_id, Person.name)
        .join(Person, Person.id == RatingRoundRater.person_id)
        .where(RatingRoundRater.shop_id == shop_id, RatingRoundRater.round_id == round_id)
        .order_by(Person.name, Person.id)
    )
    return [RaterRow(*row) for row in rows]


def ratings_of(session: Session, shop_id: UUID, round_id: UUID) -> Ratings:
    """Return each rater's newest rating of each wording of a round, in percent."""
    rows = session.execute(
        select(QuestionRating.person_id, QuestionRating.question_digest, QuestionRating.percent)
        .where(QuestionRating.shop_id == shop_id, QuestionRating.round_id == round_id)
        .order_by(QuestionRating.number)
    )
    found: Ratings = {}
    for person_id, wording, percent in rows:
        found.setdefault(person_id, {})[wording] = percent
    return found


def last_rating_number(session: Session, shop_id: UUID, round_id: UUID) -> int:
    """Return the number of the newest rating of a round, 0 for none."""
    highest = session.scalar(
        select(func.max(QuestionRating.number)).where(
            QuestionRating.shop_id == shop_id, QuestionRating.round_id == round_id
        )
    )
    return highest or 0


def rated_questions(session: Session, shop_id: UUID) -> Mapping[str, RatedQuestion]:
    """Return the ratings in force by wording: those of the newest round taken over that has any."""
    given = _ratings_taken_over(session, shop_id)
    oldest_first = session.execute(
        select(
            RatingRoundQuestion.round_id,
            RatingRoundQuestion.question_digest,
            RatingRoundQuestion.author_percent,
        )
        .join(RatingRound)
        .where(RatingRound.shop_id == shop_id, RatingRound.taken_over_at.is_not(None))
        .order_by(RatingRound.taken_over_at, RatingRound.id)
    )
    return {
        wording: RatedQuestion(str(round_id), author_percent, given[round_id, wording])
        for round_id, wording, author_percent in oldest_first
        if (round_id, wording) in given
    }


def _ratings_taken_over(session: Session, shop_id: UUID) -> dict[tuple[UUID, str], dict[str, int]]:
    """Return each rater's newest rating by round and wording, of all rounds taken over."""
    oldest_first = session.execute(
        select(
            QuestionRating.round_id,
            QuestionRating.question_digest,
            QuestionRating.person_id,
            QuestionRating.percent,
        )
        .join(RatingRound)
        .where(RatingRound.shop_id == shop_id, RatingRound.taken_over_at.is_not(None))
        .order_by(QuestionRating.number)
    )
    given: dict[tuple[UUID, str], dict[str, int]] = {}
    for round_id, wording, person_id, percent in oldest_first:
        given.setdefault((round_id, wording), {})[str(person_id)] = percent
    return given


def mending_notes(session: Session, shop_id: UUID) -> Sequence[NoteRow]:
    """Return what was decided about wordings of a shop, oldest first."""
    rows = session.execute(
        select(
            MendingNote.question_id,
            MendingNote.question_digest,
            MendingNote.mending,
            MendingNote.reason,
            Person.name,
            MendingNote.noted_at,
        )
        .join(Person, Person.id == MendingNote.noted_by)
        .where(MendingNote.shop_id == shop_id)
        .order_by(MendingNote.noted_at, MendingNote.id)
    )
    return [NoteRow(*row) for row in rows]
