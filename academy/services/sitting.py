"""Answering and handing in a sitting, whatever it was opened for.

Every answer is saved the moment it is given and none is written over.  A
submitted sitting is scored from the wording it was answered on.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Any
from uuid import UUID

from sqlalchemy.orm import Session

from academy.domain.assessment.examination import Clock
from academy.domain.assessment.forms import FormQuestion
from academy.domain.assessment.frozen import drawn_form_from_frozen, result_from_frozen
from academy.domain.assessment.results import SittingResult
from academy.domain.assessment.scoring import scenario_choices
from academy.domain.curriculum.course import Course
from academy.domain.curriculum.kinds import Interaction
from academy.domain.sentences import TradeError
from academy.services.actor import Actor, NotFound
from academy.services.sitting_rows import (
    locked_sitting,
    outcome,
    score,
    write_result,
)
from academy.services.standing import rewrite_standings
from academy.store.queries.study import (
    last_answer_number,
    newest_answer_number,
    responses,
)
from academy.store.tables.study import Answer, Sitting


@dataclass(eq=False)
class SittingSubmitted(TradeError):
    """Nothing can be answered after submission."""

    template = "This sitting has been submitted; its answers can no longer change"


@dataclass(eq=False)
class NotOnThisForm(TradeError):
    """The question does not belong to the sitting."""

    template = "This question is not on the form of this sitting"


@dataclass(eq=False)
class DecisionTaken(TradeError):
    """A decision of a scenario has changed the panel and stays taken."""

    template = "A decision that changed the panel cannot be taken back"


@dataclass(eq=False)
class AnsweredElsewhere(TradeError):
    """Another window answered this question since the page was loaded."""

    template = (
        "This question was answered in another window since you opened this page."
        " Look at the answer that stands and change it here if you want to"
    )


@dataclass(eq=False)
class NotBegun(TradeError):
    """The clock of an examination has not been started."""

    template = "Begin the examination first; its time runs from then on"


@dataclass(eq=False)
class TimeIsUp(TradeError):
    """The server's clock says that the examination is over."""

    template = "The time of this examination is up; hand in what you have answered"


def save_answer(
    session: Session,
    *,
    actor: Actor,
    sitting_id: UUID,
    answer_id: UUID,
    question_id: str,
    response: Mapping[str, Any],
    now: datetime,
    seen_number: int | None = None,
) -> None:
    """Save one answer.  The same id sent again is answered and not doubled.

    ``seen_number`` is the number of the answer the page showed, 0 for none.

    Raises
    ------
    SittingSubmitted, NotOnThisForm, DecisionTaken, AnsweredElsewhere, NotBegun, TimeIsUp
        The answer is not accepted; nothing is written.
    """
    sitting = own_sitting(session, actor, sitting_id)
    if session.get(Answer, (actor.shop_id, answer_id)) is not None:
        return
    if sitting.submitted_at is not None:
        raise SittingSubmitted()
    _refuse_outside_time(sitting, now)
    item = drawn_form_from_frozen(sitting.form).form.find(question_id)
    if item is None:
        raise NotOnThisForm()
    newest = newest_answer_number(session, actor.shop_id, sitting_id, question_id)
    if seen_number is not None and newest != seen_number:
        raise AnsweredElsewhere()
    _refuse_retaken_decision(session, sitting, item, response)
    session.add(
        Answer(
            shop_id=actor.shop_id,
            id=answer_id,
            sitting_id=sitting_id,
            number=last_answer_number(session, actor.shop_id, sitting_id) + 1,
            question_id=question_id,
            response=dict(response),
            answered_at=now,
        )
    )


def submit_sitting(
    session: Session, *, actor: Actor, sitting_id: UUID, course: Course, now: datetime
) -> SittingResult:
    """Close a sitting, score it and write what follows from it; twice gives the first result.

    An examination's result near its cut is held: it is decided when the
    prepared questions have been asked.

    Raises
    ------
    NotBegun
        An examination whose clock never ran cannot be handed in.
    """
    sitting = own_sitting(session, actor, sitting_id)
    return close_sitting(session, sitting, actor_id=actor.person_id, course=course, now=now)


def close_sitting(
    session: Session, sitting: Sitting, *, actor_id: UUID, course: Course, now: datetime
) -> SittingResult:
    """Close a locked sitting on its person's or the supervisor's word; see ``submit_sitting``."""
    if sitting.result is not None:
        return result_from_frozen(sitting.result)
    if sitting.examination is not None and sitting.begun_at is None:
        raise NotBegun()
    result = score(session, sitting)
    passed = outcome(session, sitting, result)
    write_result(session, sitting, result, passed=passed, actor_id=actor_id, now=now)
    rewrite_standings(
        session, shop_id=sitting.shop_id, person_id=sitting.person_id, course=course, now=now
    )
    return result


def own_sitting(session: Session, actor: Actor, sitting_id: UUID) -> Sitting:
    """Return the actor's own sitting, locked; NotFound for anybody else's."""
    sitting = locked_sitting(session, actor.shop_id, sitting_id)
    if sitting.person_id != actor.person_id:
        raise NotFound()
    return sitting


def clock_of(sitting: Sitting) -> Clock | None:
    """Return the clock of an examination that has begun, or None."""
    if sitting.examination is None or sitting.begun_at is None:
        return None
    return Clock(
        sitting.begun_at,
        sitting.examination["minutes"],
        sitting.examination["extra_time_percent"],
    )


def _refuse_outside_time(sitting: Sitting, now: datetime) -> None:
    if sitting.examination is None:
        return
    clock = clock_of(sitting)
    if clock is None:
        raise NotBegun()
    if clock.over(now):
        raise TimeIsUp()


def _refuse_retaken_decision(
    session: Session, sitting: Sitting, item: FormQuestion, response: Mapping[str, Any]
) -> None:
    if item.question.interaction is not Interaction.SCENARIO:
        return
    given = responses(session, sitting.shop_id, sitting.id).get(item.question.id, {})
    if not scenario_choices(given).items() <= scenario_choices(response).items():
        raise DecisionTaken()
