"""The one next step of a person, in the order of the course."""

from __future__ import annotations

from dataclasses import replace
from uuid import UUID, uuid4

import pytest
from sqlalchemy import func, select
from sqlalchemy.orm import Session

from academy.domain.curriculum.course import Course
from academy.domain.curriculum.lessons import Lesson
from academy.services import quiz, study
from academy.services.actor import Actor
from academy.services.study import NextStep
from academy.store.database import Database
from academy.store.queries.study import lessons_read
from academy.store.tables.study import LessonRead
from tests.support.cast import Cast
from tests.support.clock import NOW, later
from tests.support.course import a_course, a_digest, a_lesson, a_module
from tests.support.journey import sit


@pytest.fixture
def course() -> Course:
    """Return a course of two modules, the first with two lessons."""
    lessons = (a_lesson("before-you-start"), a_lesson("while-you-work"))
    return a_course([a_module(lessons=lessons), a_module("pads", number=2)])


def finish(session: Session, actor: Actor, lesson: Lesson, reading_id: UUID | None = None) -> None:
    study.finish_lesson(
        session, actor=actor, reading_id=reading_id or uuid4(), lesson=lesson, now=NOW
    )
    session.flush()


def next_for(session: Session, actor: Actor, course: Course) -> NextStep:
    return study.next_step(session, actor=actor, course=course)


def test_lessons_come_first_then_the_quiz_then_the_next_module(
    database: Database, cast: Cast, course: Course
) -> None:
    trainee, (first, second) = cast.shop.trainee, course.modules
    seen = []
    with database.writing() as session:
        for lesson in first.lessons:
            seen.append(next_for(session, trainee, course))
            finish(session, trainee, lesson)
        seen.append(next_for(session, trainee, course))
        sit(session, trainee, course)
        seen.append(next_for(session, trainee, course))
        sit(session, trainee, course, module=second)
        seen.append(next_for(session, trainee, course))
    assert seen == [
        NextStep("lesson", first, first.lessons[0]),
        NextStep("lesson", first, first.lessons[1]),
        NextStep("quiz", first),
        NextStep("lesson", second, second.lessons[0]),
        NextStep("practical"),
    ]


def test_an_open_sitting_comes_before_everything(
    database: Database, cast: Cast, course: Course
) -> None:
    with database.writing() as session:
        sitting_id = quiz.open_quiz(
            session, actor=cast.shop.trainee, sitting_id=uuid4(), module=course.modules[1], now=NOW
        )
        session.flush()
        step = next_for(session, cast.shop.trainee, course)
        assert step == NextStep("resume", course.modules[1], None, sitting_id)
        assert next_for(session, cast.shop.supervisor, course).kind == "lesson"


def test_a_missed_must_know_objective_is_asked_again_next(
    database: Database, cast: Cast, course: Course
) -> None:
    easy = tuple(replace(q, rating_percent=50) for q in course.modules[0].questions)
    lenient = replace(
        course, modules=(replace(course.modules[0], questions=easy), course.modules[1])
    )
    with database.writing() as session:
        sit(session, cast.shop.trainee, lenient, wrong=("cord",))
        assert next_for(session, cast.shop.trainee, lenient).kind == "must-know"


def test_a_lesson_sent_twice_is_finished_once(
    database: Database, cast: Cast, course: Course
) -> None:
    reading_id = uuid4()
    for _ in range(2):
        with database.writing() as session:
            finish(session, cast.shop.trainee, course.modules[0].lessons[0], reading_id)
    with database.reading() as session:
        assert session.scalar(select(func.count()).select_from(LessonRead)) == 1


@pytest.mark.parametrize("restudy", [True, False])
def test_a_changed_lesson_is_studied_again_only_where_the_author_asks(
    database: Database, cast: Cast, course: Course, restudy: bool
) -> None:
    trainee, module = cast.shop.trainee, course.modules[0]
    changed = tuple(
        replace(lesson, digest=a_digest("new"), restudy=restudy) for lesson in module.lessons
    )
    newer = replace(course, modules=(replace(module, lessons=changed), course.modules[1]))
    with database.writing() as session:
        for lesson in module.lessons:
            finish(session, trainee, lesson)
        assert next_for(session, trainee, newer).kind == ("restudy" if restudy else "quiz")
        for lesson in changed:
            study.finish_lesson(
                session, actor=trainee, reading_id=uuid4(), lesson=lesson, now=later(days=1)
            )
        session.flush()
        assert next_for(session, trainee, newer).kind == "quiz"
        read = lessons_read(session, trainee.shop_id, trainee.person_id)
        assert set(read.values()) == {a_digest("new")}
