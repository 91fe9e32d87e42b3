"""Sitting a quiz: open, answer, submit.

Every answer is saved the moment it is given and none is written over.  A
submitted sitting is scored from the wording it was answered on.
"""

from __future__ import annotations

import secrets
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from random import Random
from typing import Any
from uuid import UUID

from sqlalchemy import select
from sqlalchemy.orm import Session

from academy.domain.assessment.forms import Form, FormQuestion, draw_again, draw_form
from academy.domain.assessment.frozen import (
    DrawnForm,
    drawn_form_from_frozen,
    frozen_drawn_form,
    frozen_result,
    result_from_frozen,
)
from academy.domain.assessment.progress import Purpose
from academy.domain.assessment.results import SittingResult, result_of
from academy.domain.assessment.scoring import scenario_choices
from academy.domain.curriculum.kinds import Interaction
from academy.domain.curriculum.model import Course, Module
from academy.domain.people import Permission
from academy.domain.sentences import TradeError
from academy.keys.digests import digest_of
from academy.services import journal
from academy.services.actor import Actor, NotFound
from academy.services.evidence import progress_in
from academy.services.standing import rewrite_standings
from academy.store.queries.study import (
    last_answer_number,
    open_sitting_of,
    responses,
    times_seen,
)
from academy.store.tables.study import Answer, Sitting, SittingQuestion


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


def open_sitting(
    session: Session, *, actor: Actor, sitting_id: UUID, module: Module, now: datetime
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
    TooFewQuestions
        The course cannot fill the blueprint.
    """
    actor.require(Permission.SIT_QUIZ)
    known = session.get(Sitting, (actor.shop_id, sitting_id))
    if known is not None:
        if known.person_id != actor.person_id:
            raise NotFound()
        return known.id
    unfinished = open_sitting_of(session, actor.shop_id, actor.person_id, module.id)
    if unfinished is not None:
        return unfinished.id
    progress = progress_in(session, actor.shop_id, actor.person_id, module.id)
    if progress.passed_at is not None:
        raise ModulePassed()
    again = progress.open_must_know
    drawn = _draw(session, actor, module, again)
    purpose = Purpose.MUST_KNOW_AGAIN if again else Purpose.QUIZ
    _write_sitting(session, actor, sitting_id, module, drawn, purpose, now)
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
) -> None:
    """Save one answer.  The same id sent again is answered and not doubled.

    Raises
    ------
    SittingSubmitted, NotOnThisForm, DecisionTaken
        The answer is not accepted; nothing is written.
    """
    sitting = _own_sitting(session, actor, sitting_id)
    if session.get(Answer, (actor.shop_id, answer_id)) is not None:
        return
    if sitting.submitted_at is not None:
        raise SittingSubmitted()
    item = drawn_form_from_frozen(sitting.form).form.find(question_id)
    if item is None:
        raise NotOnThisForm()
    _refuse_retaken_decision(session, actor.shop_id, sitting_id, item, response)
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
    """Close a sitting, score it and write what follows from it; twice gives the first result."""
    sitting = _own_sitting(session, actor, sitting_id)
    if sitting.result is not None:
        return result_from_frozen(sitting.result)
    drawn = drawn_form_from_frozen(sitting.form)
    result = result_of(
        drawn.form, responses(session, actor.shop_id, sitting_id), set(drawn.must_know)
    )
    sitting.submitted_at = now
    sitting.result = frozen_result(result)
    sitting.passed = result.passed
    _write_marks(session, sitting, result)
    journal.append(
        session,
        shop_id=actor.shop_id,
        actor_id=actor.person_id,
        kind="sitting submitted",
        body={
            "sitting": str(sitting_id),
            "module": sitting.module_id,
            "form": sitting.form_digest,
            "result": digest_of(sitting.result),
            "passed": result.passed,
        },
        at=now,
    )
    rewrite_standings(
        session, shop_id=actor.shop_id, person_id=actor.person_id, course=course, now=now
    )
    return result


def _draw(session: Session, actor: Actor, module: Module, again: tuple[str, ...]) -> DrawnForm:
    seed = secrets.randbits(64)
    chance = Random(seed)
    seen = times_seen(session, actor.shop_id, actor.person_id, module.id)
    form: Form
    if again:
        form = draw_again(module.questions, again, chance, seen)
    else:
        form = draw_form(module.questions, module.blueprint, chance, seen)
    return DrawnForm(form, tuple(objective.id for objective in module.must_know), seed)


def _write_sitting(
    session: Session,
    actor: Actor,
    sitting_id: UUID,
    module: Module,
    drawn: DrawnForm,
    purpose: Purpose,
    now: datetime,
) -> None:
    form = frozen_drawn_form(drawn)
    session.add(
        Sitting(
            shop_id=actor.shop_id,
            id=sitting_id,
            person_id=actor.person_id,
            module_id=module.id,
            purpose=purpose,
            form=form,
            form_digest=digest_of(form),
            opened_at=now,
        )
    )
    session.flush()
    session.add_all(
        SittingQuestion(
            shop_id=actor.shop_id,
            sitting_id=sitting_id,
            position=position,
            question_id=item.question.id,
            question_digest=item.question.digest,
        )
        for position, item in enumerate(drawn.form.questions, 1)
    )


def _write_marks(session: Session, sitting: Sitting, result: SittingResult) -> None:
    earned = {question.question_id: question.marks for question in result.questions}
    rows = session.scalars(
        select(SittingQuestion).where(
            SittingQuestion.shop_id == sitting.shop_id, SittingQuestion.sitting_id == sitting.id
        )
    )
    for row in rows:
        row.marks = earned[row.question_id]


def _own_sitting(session: Session, actor: Actor, sitting_id: UUID) -> Sitting:
    sitting = session.scalars(
        select(Sitting)
        .where(Sitting.shop_id == actor.shop_id, Sitting.id == sitting_id)
        .with_for_update()
    ).one_or_none()
    if sitting is None or sitting.person_id != actor.person_id:
        raise NotFound()
    return sitting


def _refuse_retaken_decision(
    session: Session,
    shop_id: UUID,
    sitting_id: UUID,
    item: FormQuestion,
    response: Mapping[str, Any],
) -> None:
    if item.question.interaction is not Interaction.SCENARIO:
        return
    before = scenario_choices(responses(session, shop_id, sitting_id).get(item.question.id, {}))
    if not before.items() <= scenario_choices(response).items():
        raise DecisionTaken()
