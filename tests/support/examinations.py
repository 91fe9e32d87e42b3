"""A course with an examination, and what people do with one."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime
from typing import Any
from uuid import UUID, uuid4

from sqlalchemy.orm import Session

from academy.domain.assessment.key import right_response
from academy.domain.curriculum.course import Course
from academy.domain.curriculum.schemes import ExaminationRule, SpokenQuestion
from academy.services import examination
from academy.services.actor import Actor
from academy.services.sitting import submit_sitting
from academy.services.study import finish_lesson
from academy.store.tables.study import Sitting
from tests.support.clock import NOW
from tests.support.course import a_course, a_digest, a_module, a_question, a_scheme, an_objective
from tests.support.journey import form_of, give

OBJECTIVES = tuple(f"o{n}" for n in range(10))


def an_examined_course() -> Course:
    """Return a course whose scheme has an examination of ten questions, one of them must-know."""
    module = a_module(
        objectives=tuple(an_objective(name, must_know=name == "o0") for name in OBJECTIVES),
        questions=tuple(
            a_question(f"{name}-{n}", objective_id=name) for name in OBJECTIVES for n in (1, 2)
        ),
        blueprint=replace(
            a_module().blueprint,
            cells=tuple(
                replace(a_module().blueprint.cells[0], objective_id=name, questions=1)
                for name in OBJECTIVES
            ),
        ),
    )
    return a_course(
        [module],
        schemes=(a_scheme(examination=ExaminationRule(40, 9, 7)),),
        spoken=tuple(
            SpokenQuestion(
                f"s{n}", f"o{n}", f"<p>Ask {n}</p>", f"<p>Say {n}</p>", a_digest(f"s{n}")
            )
            for n in range(5)
        ),
    )


def opened(
    session: Session, by: Actor, trainee: Actor, course: Course, at: datetime = NOW, **more: Any
) -> UUID:
    """Open an examination and return its id."""
    new = examination.NewExamination(uuid4(), trainee.person_id, course.schemes[0].id, **more)
    made = examination.open_examination(session, actor=by, new=new, course=course, now=at)
    session.flush()
    return made


def answered(
    session: Session, trainee: Actor, examination_id: UUID, wrong: int, at: datetime = NOW
) -> None:
    """Answer an examination that has begun, so many wrong, what must be known right."""
    items = form_of(session, trainee.shop_id, examination_id).questions
    loose = [item for item in items if item.question.objective_id != "o0"]
    missed = {item.question.id for item in loose[:wrong]}
    for item in items:
        response = {"chosen": [2]} if item.question.id in missed else right_response(item.question)
        give(session, trainee, examination_id, item.question.id, response, at)


def sat(
    session: Session, by: Actor, trainee: Actor, course: Course, wrong: int, at: datetime = NOW
) -> Sitting:
    """Open, begin, answer and hand in an examination, so many answers wrong."""
    examination_id = opened(session, by, trainee, course, at)
    examination.begin_examination(session, actor=trainee, sitting_id=examination_id, now=at)
    answered(session, trainee, examination_id, wrong, at)
    submit_sitting(session, actor=trainee, sitting_id=examination_id, course=course, now=at)
    session.flush()
    return session.get_one(Sitting, (trainee.shop_id, examination_id))


def read_again(session: Session, trainee: Actor, course: Course, at: datetime) -> None:
    """Study every lesson of the course once more."""
    for module in course.modules:
        for lesson in module.lessons:
            finish_lesson(session, actor=trainee, reading_id=uuid4(), lesson=lesson, now=at)
    session.flush()
