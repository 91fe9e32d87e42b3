"""A shop's answers as evidence about its questions, on both databases."""

from __future__ import annotations

from dataclasses import replace
from uuid import uuid4

import pytest
from sqlalchemy.orm import Session

from academy.domain.assessment import mending
from academy.domain.assessment.key import right_response
from academy.domain.curriculum.course import Course
from academy.services import dispute
from academy.services.actor import Actor, NotAllowed
from academy.services.judged_questions import QuestionQuality
from academy.services.question_quality import question_quality
from academy.services.quiz import open_quiz
from academy.services.sitting import submit_sitting
from academy.store.database import Database
from tests.support.cast import Cast
from tests.support.clock import NOW, later
from tests.support.course import a_course, a_digest, a_module
from tests.support.journey import form_of, give, sit


def judged(session: Session, actor: Actor, course: Course) -> QuestionQuality:
    return question_quality(session, actor=actor, course=course, ratings={})


def asked(quality: QuestionQuality) -> dict[str, tuple[int, int]]:
    """Return answered and right of each question that was answered."""
    found = {one.id: one.now.evidence for one in quality.questions}
    return {name: (e.answered, e.right) for name, e in found.items() if e.answered}


def test_only_the_first_sitting_of_a_quiz_counts(
    database: Database, cast: Cast, course: Course
) -> None:
    with database.writing() as session:
        sit(session, cast.shop.trainee, course, wrong=("goggles", "cord"))
        first = asked(judged(session, cast.shop.owner, course))
        assert sorted(first.values()) == [(1, 0)] * 4
        sit(session, cast.shop.trainee, course, later(days=1))
        assert asked(judged(session, cast.shop.owner, course)) == first
        sit(session, cast.shop.second_supervisor, course, later(days=2))
        again = asked(judged(session, cast.shop.owner, course))
        assert sum(n for n, _ in again.values()) == 8
        assert sum(right for _, right in again.values()) == 4


def test_an_open_sitting_counts_once_it_is_handed_in_and_blank_is_wrong(
    database: Database, cast: Cast, course: Course
) -> None:
    with database.writing() as session:
        trainee, made = cast.shop.trainee, uuid4()
        open_quiz(session, actor=trainee, sitting_id=made, module=course.modules[0], now=NOW)
        item = form_of(session, trainee.shop_id, made).questions[0]
        give(session, trainee, made, item.question.id, right_response(item.question))
        assert not asked(judged(session, cast.shop.owner, course))
        submit_sitting(session, actor=trainee, sitting_id=made, course=course, now=NOW)
        session.flush()
        found = judged(session, cast.shop.owner, course)
        assert sorted(asked(found).values()) == [(1, 0), (1, 0), (1, 0), (1, 1)]
        assert sorted(one.now.evidence.blank for one in found.questions if one.seen) == [0, 1, 1, 1]


def test_another_shops_answers_are_not_seen(database: Database, cast: Cast, course: Course) -> None:
    with database.writing() as session:
        sit(session, cast.shop.trainee, course)
        assert not asked(judged(session, cast.strangers.owner, course))
        assert all(not one.seen for one in judged(session, cast.strangers.owner, course).questions)


@pytest.mark.parametrize("who", ["supervisor", "trainee"])
def test_only_an_owner_judges_questions(
    sqlite: Database, cast_sqlite: Cast, course: Course, who: str
) -> None:
    with sqlite.writing() as session, pytest.raises(NotAllowed):
        judged(session, getattr(cast_sqlite.shop, who), course)


def test_a_changed_wording_starts_afresh_and_the_earlier_one_is_kept_apart(
    database: Database, cast: Cast, course: Course
) -> None:
    with database.writing() as session:
        sit(session, cast.shop.trainee, course)
        before = asked(judged(session, cast.shop.owner, course))
        reworded = a_course(
            [
                a_module(
                    questions=tuple(
                        replace(q, digest=a_digest("new " + q.id), stem_html="<p>New words</p>")
                        for q in course.modules[0].questions
                    )
                )
            ],
            digest=a_digest("reworded"),
        )
        after = judged(session, cast.shop.owner, reworded)
        assert not asked(after)
        kept = {one.id: one for one in after.questions if one.earlier}
        assert set(kept) == set(before)
        for one in kept.values():
            assert one.earlier[0].evidence.answered == 1
            assert one.earlier[0].question.stem_html != one.now.question.stem_html
            assert one.seen == 1


def test_a_disputed_question_comes_first_and_a_voided_one_loses_its_answers(
    database: Database, cast: Cast, course: Course
) -> None:
    with database.writing() as session:
        trainee, made, dispute_id = cast.shop.trainee, uuid4(), uuid4()
        open_quiz(session, actor=trainee, sitting_id=made, module=course.modules[0], now=NOW)
        for item in form_of(session, trainee.shop_id, made).questions:
            give(session, trainee, made, item.question.id, right_response(item.question))
        submit_sitting(session, actor=trainee, sitting_id=made, course=course, now=NOW)
        faulty = form_of(session, trainee.shop_id, made).question_ids[0]
        dispute.question_a_question(
            session, actor=trainee, dispute_id=dispute_id, sitting_id=made, question_id=faulty,
            reason="two are right", now=NOW,
        )  # fmt: skip
        session.flush()
        first = judged(session, cast.shop.owner, course).questions[0]
        assert (first.id, type(first.now.findings[0])) == (faulty, mending.Disputed)
        dispute.decide_dispute(
            session, actor=cast.shop.owner, dispute_id=dispute_id, voided=True, decision="so it is",
            wrote_it=False, course=course, now=later(days=1),
        )  # fmt: skip
        session.flush()
        first = judged(session, cast.shop.owner, course).questions[0]
        assert (first.id, type(first.now.findings[0])) == (faulty, mending.StillAsked)
        assert first.now.evidence.answered == 0


def test_what_was_computed_is_kept_until_an_answer_is_added(
    sqlite: Database, cast_sqlite: Cast, course: Course
) -> None:
    with sqlite.writing() as session:
        sit(session, cast_sqlite.shop.trainee, course)
        once = judged(session, cast_sqlite.shop.owner, course)
        assert judged(session, cast_sqlite.shop.owner, course) is once
        sit(session, cast_sqlite.shop.second_supervisor, course)
        assert judged(session, cast_sqlite.shop.owner, course) is not once
