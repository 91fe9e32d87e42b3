"""Supervisors rate questions again: each alone, then with the spread in sight, then it is taken over.

One supervisor is enough; the author of the course is always the other rater.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from uuid import UUID, uuid4

from sqlalchemy import select
from sqlalchemy.orm import Session

from academy.domain.assessment.re_rating import RoundStage
from academy.domain.curriculum.frozen import frozen_question
from academy.domain.curriculum.questions import Question
from academy.domain.people import Permission, Role
from academy.domain.sentences import TradeError
from academy.services import journal
from academy.services.actor import Actor, NotFound
from academy.store.queries import rating_rounds as queries
from academy.store.queries.people import members
from academy.store.tables.question_quality import (
    QuestionRating,
    RatingRound,
    RatingRoundQuestion,
    RatingRoundRater,
)

MOST_QUESTIONS = 60


@dataclass(eq=False)
class NothingToRate(TradeError):
    """A round needs questions and somebody to rate them."""

    template = "Choose at least one question and one supervisor"


@dataclass(eq=False)
class TooManyToRate(TradeError):
    """Nobody rates hundreds of questions with care."""

    template = "Choose at most %(most)d questions; more than that nobody rates with care"
    most: int


@dataclass(eq=False)
class NotASupervisor(TradeError):
    """Only supervisors of the shop rate."""

    template = "Choose supervisors of this shop"


@dataclass(eq=False)
class AlreadyTakenOver(TradeError):
    """The round is over."""

    template = "The ratings of this round have been taken over; open a new round to rate again"


@dataclass(eq=False)
class NotAPercentage(TradeError):
    """A rating is a whole number of people out of a hundred."""

    template = "A rating is a whole number from 0 to 100"


@dataclass(eq=False)
class SpreadNotShown(TradeError):
    """Ratings are taken over after they were looked at."""

    template = "Look at the spread first; then the ratings can be taken over"


@dataclass(frozen=True, slots=True)
class NewRound:
    """What an owner chooses when a round is opened."""

    id: UUID
    module_id: str
    questions: Sequence[Question]
    raters: Collection[UUID]


def open_round(session: Session, *, actor: Actor, new: NewRound, now: datetime) -> UUID:
    """Ask supervisors to rate questions; a known id is answered with itself.

    Raises
    ------
    NothingToRate, TooManyToRate, NotASupervisor
        It is not opened; nothing is written.
    """
    actor.require(Permission.JUDGE_QUESTIONS)
    if session.get(RatingRound, (actor.shop_id, new.id)) is not None:
        return new.id
    if not new.questions or not new.raters:
        raise NothingToRate()
    if len(new.questions) > MOST_QUESTIONS:
        raise TooManyToRate(MOST_QUESTIONS)
    supervisors = {
        m.person_id for m in members(session, actor.shop_id) if Role.SUPERVISOR in m.roles
    }
    if not supervisors.issuperset(new.raters):
        raise NotASupervisor()
    key = {"shop_id": actor.shop_id, "round_id": new.id}
    session.add(
        RatingRound(
            shop_id=actor.shop_id, id=new.id, module_id=new.module_id,
            opened_by=actor.person_id, opened_at=now,
        )
    )  # fmt: skip
    session.flush()
    session.add_all(
        RatingRoundQuestion(
            **key, position=position, question_id=question.id, question_digest=question.digest,
            author_percent=question.rating_percent,
            question=frozen_question(question),
        )
        for position, question in enumerate(new.questions, 1)
    )  # fmt: skip
    session.add_all(RatingRoundRater(**key, person_id=rater) for rater in sorted(set(new.raters)))
    return new.id


def rate_questions(
    session: Session,
    *,
    actor: Actor,
    round_id: UUID,
    ratings: Mapping[str, int],
    now: datetime,
) -> RoundStage:
    """Keep one rater's ratings, by wording, and return where the round stands.

    A round whose raters have all rated everything shows its spread by itself.
    What is the same as before is not written again.

    Raises
    ------
    NotFound
        The person was not asked.
    NotAPercentage, AlreadyTakenOver
        Nothing is written.
    """
    actor.require(Permission.RATE_QUESTIONS)
    one = _locked(session, actor.shop_id, round_id)
    asked = {rater.person_id for rater in queries.raters(session, actor.shop_id, round_id)}
    if actor.person_id not in asked:
        raise NotFound()
    if one.taken_over_at is not None:
        raise AlreadyTakenOver()
    wordings = {q.digest for q in queries.round_questions(session, actor.shop_id, round_id)}
    if not wordings.issuperset(ratings):
        raise NotFound()
    if not all(0 <= percent <= 100 for percent in ratings.values()):
        raise NotAPercentage()
    given = queries.ratings_of(session, actor.shop_id, round_id)
    before = given.get(actor.person_id, {})
    changed = {w: p for w, p in ratings.items() if before.get(w) != p}
    number = queries.last_rating_number(session, actor.shop_id, round_id)
    session.add_all(
        QuestionRating(
            shop_id=actor.shop_id, id=uuid4(), round_id=round_id, number=number + place,
            question_digest=wording, person_id=actor.person_id, percent=percent,
            with_spread=one.shown_at is not None, rated_at=now,
        )
        for place, (wording, percent) in enumerate(changed.items(), 1)
    )  # fmt: skip
    given[actor.person_id] = before | changed
    if one.shown_at is None and all(set(given.get(rater, ())) == wordings for rater in asked):
        one.shown_at = now
    return RoundStage.ALONE if one.shown_at is None else RoundStage.TALK


def show_spread(session: Session, *, actor: Actor, round_id: UUID, now: datetime) -> None:
    """End the part where each rates alone, whether or not everybody has; twice changes nothing."""
    actor.require(Permission.JUDGE_QUESTIONS)
    one = _locked(session, actor.shop_id, round_id)
    if one.shown_at is None:
        one.shown_at = now


def take_over(session: Session, *, actor: Actor, round_id: UUID, now: datetime) -> None:
    """Let the ratings decide the pass mark of forms drawn from now on; twice changes nothing.

    Raises
    ------
    SpreadNotShown
        Nobody has looked at the spread yet.
    """
    actor.require(Permission.JUDGE_QUESTIONS)
    one = _locked(session, actor.shop_id, round_id)
    if one.taken_over_at is not None:
        return
    if one.shown_at is None:
        raise SpreadNotShown()
    one.taken_over_at, one.taken_over_by = now, actor.person_id
    given = queries.ratings_of(session, actor.shop_id, round_id)
    journal.append(
        session,
        shop_id=actor.shop_id,
        actor_id=actor.person_id,
        kind="ratings taken over",
        body={
            "round": str(round_id),
            "ratings": {str(person_id): dict(of) for person_id, of in given.items()},
        },
        at=now,
    )


def _locked(session: Session, shop_id: UUID, round_id: UUID) -> RatingRound:
    found = session.scalars(
        select(RatingRound)
        .where(RatingRound.shop_id == shop_id, RatingRound.id == round_id)
        .with_for_update()
    ).one_or_none()
    if found is None:
        raise NotFound()
    return found
