"""The demonstration's invented year: as a real shop would have left it, with findings to see."""

from __future__ import annotations

from random import Random

import pytest
from sqlalchemy import func, select

from academy.content.library import CourseLibrary
from academy.domain.assessment import mending
from academy.domain.assessment.frozen import drawn_form_from_frozen, frozen_result
from academy.domain.assessment.results import result_of
from academy.domain.assessment.scoring import answered, marks
from academy.domain.curriculum.course import Course
from academy.keys.digests import digest_of
from academy.services import demo_answers, people
from academy.services.demo_answering import Habit, answer, answering
from academy.services.demo_answers import load_answers
from academy.services.journal import check_journal
from academy.services.judging_questions import judged
from academy.settings import PROJECT
from academy.store.database import Database
from academy.store.queries.people import members
from academy.store.queries.study import responses
from academy.store.tables.people import Person
from academy.store.tables.study import Sitting, SittingQuestion
from tests.support.clock import NOW


@pytest.fixture(scope="module")
def real_course() -> Course:
    return CourseLibrary(PROJECT / "content").course


def test_it_is_what_real_sittings_leave(
    database: Database, real_course: Course, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Every form, answer, mark and result fits the others, and the journal is whole."""
    monkeypatch.setattr(demo_answers, "PEOPLE", 8)
    with database.writing() as session:
        shop_id = people.open_shop(session, name="Invented", now=NOW, demo=True)
        load_answers(session, shop_id=shop_id, course=real_course, now=NOW)
    with database.reading() as session:
        sat = session.scalars(select(Sitting)).all()
        assert len(sat) == 8 * 3
        for sitting in sat:
            assert digest_of(sitting.form) == sitting.form_digest
            drawn = drawn_form_from_frozen(sitting.form)
            given = responses(session, shop_id, sitting.id)
            result = result_of(drawn.form, given, set(drawn.must_know))
            assert frozen_result(result) == sitting.result
            assert result.passed == sitting.passed
            rows = session.scalars(
                select(SittingQuestion)
                .where(SittingQuestion.sitting_id == sitting.id)
                .order_by(SittingQuestion.position)
            )
            assert [(row.question_id, row.marks) for row in rows] == [
                (question.question_id, question.marks) for question in result.questions
            ]
            assert sitting.submitted_at is not None
            assert sitting.opened_at < sitting.submitted_at < NOW
        assert check_journal(session, shop_id).whole
        assert not members(session, shop_id), "they have left"
        named = session.scalars(select(Person.name)).all()
        assert all("invented" in name for name in named)
        assert session.scalar(select(func.count()).select_from(Sitting)) == len(sat)


def test_the_invented_faults_are_found(sqlite: Database, real_course: Course) -> None:
    with sqlite.writing() as session:
        shop_id = people.open_shop(session, name="Invented", now=NOW, demo=True)
        load_answers(session, shop_id=shop_id, course=real_course, now=NOW)
        quality = judged(session, shop_id, real_course, {})
    found = {type(reason) for one in quality.questions for reason in one.now.findings}
    assert {
        mending.SuspectedKey,
        mending.TellsNobodyApart,
        mending.TooEasy,
        mending.RatedTooHigh,
    } <= found
    assert isinstance(quality.questions[0].now.findings[0], mending.SuspectedKey)
    assert sum(bool(one.now.findings) for one in quality.questions) < 40


def test_a_wrong_answer_is_an_answer_and_never_the_right_one(real_course: Course) -> None:
    chance = Random(4)
    for module in real_course.modules:
        for question in module.questions:
            how = answering(question, Habit.BY_ABILITY, chance)
            for _ in range(5):
                given = answer(how, -60.0, chance)
                assert answered(question, given), question.id
                assert marks(question, given) < 100, question.id


def test_a_course_without_choices_can_be_answered(sqlite: Database, course: Course) -> None:
    """The small course of the tests has one module of eight questions."""
    with sqlite.writing() as session:
        shop_id = people.open_shop(session, name="Invented", now=NOW, demo=True)
        load_answers(session, shop_id=shop_id, course=course, now=NOW)
        assert check_journal(session, shop_id).whole
