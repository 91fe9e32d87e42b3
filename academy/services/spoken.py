"""The three prepared questions of a result near its cut, and the decision that rests on them."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from random import Random
from typing import Any
from uuid import UUID, uuid4

from sqlalchemy.orm import Session

from academy.domain.assessment.examination import (
    SPOKEN_QUESTIONS,
)
from academy.domain.assessment.frozen import drawn_form_from_frozen, result_from_frozen
from academy.domain.curriculum.course import Course
from academy.domain.curriculum.schemes import SpokenQuestion
from academy.domain.people import Permission, refuse_own_practical
from academy.domain.sentences import TradeError
from academy.services import journal
from academy.services.actor import Actor
from academy.services.sitting_rows import locked_sitting, outcome
from academy.services.standing import rewrite_standings
from academy.store.queries.examinations import (
    spoken_answers,
)
from academy.store.tables.examinations import SpokenAnswer
from academy.store.tables.study import Sitting


@dataclass(eq=False)
class NothingHeld(TradeError):
    """Only a result near the cut waits for spoken answers."""

    template = "This result does not wait for spoken answers"


@dataclass(eq=False)
class NotPrepared(TradeError):
    """The question is not one of those drawn for this result."""

    template = "Ask one of the prepared questions shown for this result"


def spoken_questions(sitting: Sitting, course: Course) -> tuple[SpokenQuestion, ...]:
    """Return the three prepared questions of a result near the cut.

    They are drawn by the form's own seed, so asking again shows the same three:
    those on objectives that were missed first, then those of the form, then
    others of the scheme's modules.
    """
    form = drawn_form_from_frozen(sitting.form)
    on_form = {item.question.objective_id for item in form.form.questions}
    missed: set[str] = set()
    if sitting.result is not None:
        result = result_from_frozen(sitting.result)
        missed = {question.objective_id for question in result.questions if not question.right}
    taught = on_form | _objectives(course, sitting.scheme_id)
    candidates = [question for question in course.spoken if question.objective_id in taught]
    Random(form.seed).shuffle(candidates)
    candidates.sort(key=lambda q: (q.objective_id not in missed, q.objective_id not in on_form))
    return tuple(candidates[:SPOKEN_QUESTIONS])


def record_spoken_answer(
    session: Session,
    *,
    actor: Actor,
    sitting_id: UUID,
    spoken_id: str,
    answer: str,
    satisfactory: bool,
    course: Course,
    now: datetime,
) -> bool | None:
    """Record one spoken answer; after the third the result is decided.

    Returns
    -------
    bool or None
        Whether the examination is passed, None while answers are still missing.
    """
    actor.require(Permission.OPEN_EXAMINATION)
    sitting = locked_sitting(session, actor.shop_id, sitting_id)
    refuse_own_practical(actor.person_id, sitting.person_id)
    if sitting.result is None or sitting.passed is not None:
        raise NothingHeld()
    asked = {question.id: question for question in spoken_questions(sitting, course)}
    if spoken_id not in asked:
        raise NotPrepared()
    given = spoken_answers(session, actor.shop_id, sitting_id)
    if spoken_id not in {row.spoken_id for row in given}:
        session.add(
            SpokenAnswer(
                shop_id=actor.shop_id,
                id=uuid4(),
                sitting_id=sitting_id,
                spoken_id=spoken_id,
                question=_frozen_spoken(asked[spoken_id]),
                answer=answer,
                satisfactory=satisfactory,
                asked_by=actor.person_id,
                asked_at=now,
            )
        )
        session.flush()
    return _decide_held(session, actor, sitting, course, now)


def _decide_held(
    session: Session, actor: Actor, sitting: Sitting, course: Course, now: datetime
) -> bool | None:
    given = spoken_answers(session, actor.shop_id, sitting.id)
    if len(given) < SPOKEN_QUESTIONS or sitting.result is None:
        return None
    sitting.passed = outcome(session, sitting, result_from_frozen(sitting.result))
    journal.append(
        session,
        shop_id=actor.shop_id,
        actor_id=actor.person_id,
        kind="examination decided",
        body={
            "sitting": str(sitting.id),
            "spoken": {row.spoken_id: row.satisfactory for row in given},
            "passed": sitting.passed,
        },
        at=now,
    )
    rewrite_standings(
        session, shop_id=actor.shop_id, person_id=sitting.person_id, course=course, now=now
    )
    return sitting.passed


def _objectives(course: Course, scheme_id: str | None) -> set[str]:
    scheme = course.scheme(scheme_id or "")
    asked = scheme.modules if scheme else ()
    return {o.id for module in course.modules if module.id in asked for o in module.objectives}


def _frozen_spoken(question: SpokenQuestion) -> dict[str, Any]:
    return {
        "id": question.id,
        "objective": question.objective_id,
        "text_html": question.text_html,
        "model_answer_html": question.model_answer_html,
        "digest": question.digest,
    }
