"""Sitting a quiz: open, answer, submit.

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

from academy.domain.assessment.examination import Clock, near_the_cut
from academy.domain.assessment.forms import FormQuestion, draw_again, draw_form
from academy.domain.assessment.frozen import drawn_form_from_frozen, result_from_frozen
from academy.domain.assessment.progress import Purpose
from academy.domain.assessment.results import SittingResult
from academy.domain.assessment.retake import (
    RestudyFirst,
    held_back,
    refuse_too_soon,
    to_restudy,
)
from academy.domain.assessment.scoring import scenario_choices
from academy.domain.curriculum.course import Course, Module
from academy.domain.curriculum.kinds import Interaction
from academy.domain.curriculum.lessons import Lesson
from academy.domain.people import Permission
from academy.domain.sentences import TradeError
from academy.services.actor import Actor, NotFound
from academy.services.evidence import progress_in, submitted_in
from academy.services.sitting_rows import (
    NewSitting,
    drawn,
    locked_sitting,
    score,
    take_turns,
    write_result,
    write_sitting,
)
from academy.services.standing import rewrite_standings
from academy.store.queries.study import (
    last_answer_number,
    lessons_read_since,
    newest_answer_number,
    open_sitting_of,
    responses,
    times_seen,
)
from academy.store.tables.study import Answer, Sitting

DECIDING_A_MODULE = frozenset(purpose for purpose in Purpose if purpose.decides_module)


@dataclass(eq=False)
class SittingSubmitted(TradeError):
    """Nothing can be answered after submission."""

    template = "This sitting has been submitted; its answers can no longer change"


@dataclass(eq=False)
class ModulePassed(TradeError):
    """There is nothing left to decide in this module."""

    template = "You have passed this module; its quiz does not have to be sat again"


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


@dataclass(frozen=True, slots=True)
class RetakeRule:
    """What a scheme asks between two sittings: days to wait, and reading again what was missed."""

    wait_days: int = 0
    restudy: bool = True


def open_sitting(
    session: Session,
    *,
    actor: Actor,
    sitting_id: UUID,
    module: Module,
    now: datetime,
    retake: RetakeRule | None = None,
) -> UUID:
    """Open a sitting of a module's quiz and return its id.

    A sitting that is still open is resumed instead, on whatever device; an id
    that is known already is answered with itself.  After a quiz whose cut was
    reached with a must-know objective missed, the form asks those again in
    other words.

    Raises
    ------
    ModulePassed
        The module's quiz needs no further sitting.
    TooSoon, RestudyFirst
        The scheme's retake rule is not met yet.
    TooFewQuestions
        The course cannot fill the blueprint.
    """
    actor.require(Permission.SIT_QUIZ)
    take_turns(session, actor.shop_id, actor.person_id)
    known = session.get(Sitting, (actor.shop_id, sitting_id))
    if known is not None:
        if known.person_id != actor.person_id:
            raise NotFound()
        return known.id
    unfinished = open_sitting_of(
        session, actor.shop_id, actor.person_id, module.id, DECIDING_A_MODULE
    )
    if unfinished is not None:
        return unfinished.id
    progress = progress_in(session, actor.shop_id, actor.person_id, module.id)
    if progress.passed_at is not None:
        raise ModulePassed()
    again = progress.open_must_know
    if retake is not None:
        _refuse_retake(session, actor, module, retake, now)
    earlier = submitted_in(session, actor.shop_id, actor.person_id, module.id)
    seen = held_back(
        times_seen(session, actor.shop_id, actor.person_id, module.id),
        earlier[-1].result if earlier else None,
    )
    form = drawn(
        [objective.id for objective in module.must_know],
        lambda chance: (
            draw_again(module.questions, again, chance, seen)
            if again
            else draw_form(module.questions, module.blueprint, chance, seen)
        ),
    )
    purpose = Purpose.MUST_KNOW_AGAIN if again else Purpose.QUIZ
    new = NewSitting(sitting_id, actor.shop_id, actor.person_id, purpose, module.id)
    write_sitting(session, new, form, now)
    return sitting_id


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
    passed: bool | None = result.passed
    if sitting.purpose == Purpose.EXAMINATION and not result.missed_must_know:
        form = drawn_form_from_frozen(sitting.form).form
        passed = None if near_the_cut(result, form) else passed
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


def _refuse_retake(
    session: Session, actor: Actor, module: Module, rule: RetakeRule, now: datetime
) -> None:
    earlier = submitted_in(session, actor.shop_id, actor.person_id, module.id)
    refuse_too_soon(earlier, rule.wait_days, now)
    missed = lessons_to_restudy(session, actor, module) if rule.restudy else ()
    if missed:
        raise RestudyFirst(", ".join(lesson.title for lesson in missed))


def lessons_to_restudy(session: Session, actor: Actor, module: Module) -> tuple[Lesson, ...]:
    """Return the module's lessons that teach what was missed last and were not read again since."""
    earlier = submitted_in(session, actor.shop_id, actor.person_id, module.id)
    if not earlier:
        return ()
    last = earlier[-1]
    read = lessons_read_since(session, actor.shop_id, actor.person_id, last.submitted_at)
    taught_in = {
        question.id: f"{question.teaches.module_id}/{question.teaches.lesson_id}"
        for question in module.questions
    }
    missed = to_restudy(last.result, taught_in, read)
    return tuple(lesson for lesson in module.lessons if lesson.path in missed)


def _refuse_retaken_decision(
    session: Session, sitting: Sitting, item: FormQuestion, response: Mapping[str, Any]
) -> None:
    if item.question.interaction is not Interaction.SCENARIO:
        return
    given = responses(session, sitting.shop_id, sitting.id).get(item.question.id, {})
    if not scenario_choices(given).items() <= scenario_choices(response).items():
        raise DecisionTaken()
