"""A voided wording is never drawn again nor scored, and every result that rested on it is recomputed."""

from __future__ import annotations

from dataclasses import replace
from uuid import UUID, uuid4

import pytest
from sqlalchemy import select
from sqlalchemy.orm import Session

from academy.domain.assessment.drawing import TooFewQuestions
from academy.domain.curriculum.course import Course
from academy.services import dispute, quiz, sitting, spoken
from academy.services.actor import Actor
from academy.services.evidence import progress_in
from academy.services.journal import check_journal
from academy.store.database import Database
from academy.store.queries.disputes import disputes
from academy.store.tables.journal import JournalEntry
from academy.store.tables.study import Sitting
from tests.support.cast import Cast
from tests.support.clock import NOW, later
from tests.support.course import a_course, a_module
from tests.support.evidence import evidence_on
from tests.support.examinations import an_examined_course, read_again, sat
from tests.support.journey import form_of, give, sit


@pytest.fixture
def examined() -> Course:
    return an_examined_course()


def void(session: Session, cast: Cast, course: Course, sitting_id: UUID, question_id: str) -> int:
    """Question an item as the trainee, take it out as the owner; return how many results changed."""
    made = uuid4()
    dispute.question_a_question(
        session, actor=cast.shop.trainee, dispute_id=made, sitting_id=sitting_id,
        question_id=question_id, reason="both answers can be right", now=NOW,
    )  # fmt: skip
    session.flush()
    changed = dispute.decide_dispute(
        session, actor=cast.shop.owner, dispute_id=made, voided=True, decision="two are right",
        wrote_it=False, course=course, now=NOW,
    )  # fmt: skip
    session.flush()
    return changed


def newest(session: Session, actor: Actor) -> UUID:
    """Return a person's newest sitting."""
    return session.scalars(
        select(Sitting.id)
        .where(Sitting.person_id == actor.person_id)
        .order_by(Sitting.opened_at.desc())
    ).all()[0]


class TestDrawing:
    def test_it_is_on_no_later_form_and_the_lack_of_questions_is_said(
        self, database: Database, cast: Cast, course: Course
    ) -> None:
        """Four questions of 'cord', two on a form: one may go, the second and third may not."""
        trainee, module = cast.shop.trainee, course.modules[0]
        with database.writing() as session:
            gone: set[str] = set()
            for day in range(2):
                sit(session, trainee, course, later(days=day), wrong=("cord", "goggles"))
                made = newest(session, trainee)
                items = form_of(session, trainee.shop_id, made).questions
                assert gone.isdisjoint(item.question.id for item in items)
                of_cord = [i.question.id for i in items if i.question.objective_id == "cord"]
                void(session, cast, course, made, of_cord[0])
                gone.add(of_cord[0])
            made = quiz.open_quiz(
                session, actor=trainee, sitting_id=uuid4(), module=module, now=later(days=3)
            )
            assert gone.isdisjoint(form_of(session, trainee.shop_id, made).question_ids)
            sitting.submit_sitting(
                session, actor=trainee, sitting_id=made, course=course, now=later(days=3)
            )
            of_cord = [
                n for n in form_of(session, trainee.shop_id, made).question_ids if "cord" in n
            ]
            void(session, cast, course, made, of_cord[0])
            with pytest.raises(TooFewQuestions, match="objective cord has 1 questions"):
                quiz.open_quiz(
                    session, actor=trainee, sitting_id=uuid4(), module=module, now=later(days=4)
                )

    def test_another_shop_still_draws_it(
        self, database: Database, cast: Cast, examined: Course
    ) -> None:
        with database.writing() as session:
            first = sat(session, cast.shop.supervisor, cast.shop.trainee, examined, wrong=9)
            names = form_of(session, cast.shop.shop_id, first.id).question_ids
            void(session, cast, examined, first.id, names[1])
            strangers = cast.strangers
            drawn: set[str] = set()
            for day in range(2):
                read_again(session, strangers.trainee, examined, later(days=8 * day))
                made = sat(
                    session, strangers.supervisor, strangers.trainee, examined, 9,
                    later(days=8 * day),
                )  # fmt: skip
                drawn |= set(form_of(session, strangers.shop_id, made.id).question_ids)
            assert names[1] in drawn


class TestScoring:
    @pytest.fixture
    def narrow(self) -> Course:
        """Return a course with exactly one form: two of 'cord', which must be known, two others."""
        module = a_module()
        kept = tuple(q for q in module.questions if q.id[-1] in "12")
        return a_course([replace(module, questions=kept)])

    def test_a_sitting_that_was_open_when_it_was_voided_is_scored_without_it(
        self, database: Database, cast: Cast, narrow: Course
    ) -> None:
        shop, module = cast.shop, narrow.modules[0]
        with database.writing() as session:
            running = quiz.open_quiz(
                session, actor=shop.supervisor, sitting_id=uuid4(), module=module, now=NOW
            )
            for name in form_of(session, shop.shop_id, running).question_ids:
                chosen = 2 if name == "safety-cord-1" else 1
                give(session, shop.supervisor, running, name, {"chosen": [chosen]})
            sit(session, shop.trainee, narrow)
            void(session, cast, narrow, newest(session, shop.trainee), "safety-cord-1")
            result = sitting.submit_sitting(
                session, actor=shop.supervisor, sitting_id=running, course=narrow, now=NOW
            )
            assert (result.score_points, result.full_points, result.passed) == (300, 300, True)
            person = shop.supervisor.person_id
            assert progress_in(session, shop.shop_id, person, "safety").passed_at == NOW

    def test_what_must_be_known_is_asked_again_where_its_questions_were_voided(
        self, database: Database, cast: Cast, course: Course
    ) -> None:
        """The cut was missed with them and is reached without them; 'cord' alone stays open."""
        trainee = cast.shop.trainee
        with database.writing() as session:
            sit(session, trainee, course, wrong=("cord",))
            made = newest(session, trainee)
            of_cord = [
                n for n in form_of(session, trainee.shop_id, made).question_ids if "cord" in n
            ]
            for name in of_cord:
                void(session, cast, course, made, name)
            progress = progress_in(session, trainee.shop_id, trainee.person_id, "safety")
            assert progress.open_must_know == ("cord",)
            again = quiz.open_quiz(
                session,
                actor=trainee,
                sitting_id=uuid4(),
                module=course.modules[0],
                now=later(days=1),
            )
            form = form_of(session, trainee.shop_id, again)
            assert {item.question.objective_id for item in form.questions} == {"cord"}
            assert not set(form.question_ids) & set(of_cord)

    def test_a_failed_examination_that_comes_near_the_mark_is_decided_by_the_three_questions(
        self, database: Database, cast: Cast, examined: Course
    ) -> None:
        """Five of ten wrong at 70 is below; without one of them four of nine are near."""
        shop = cast.shop
        with database.writing() as session:
            stored = sat(session, shop.supervisor, shop.trainee, examined, wrong=5)
            assert stored.passed is False
            assert void(session, cast, examined, stored.id, missed(stored)) == 1
            assert stored.passed is None
            for question in spoken.spoken_questions(stored, examined):
                spoken.record_spoken_answer(
                    session, actor=shop.supervisor, sitting_id=stored.id, spoken_id=question.id,
                    answer="so", satisfactory=True, course=examined, now=NOW,
                )  # fmt: skip
            assert stored.passed is True
            assert evidence_on(
                session, shop.shop_id, shop.trainee.person_id, NOW.date()
            ).examinations
            kinds = [entry.kind for entry in session.scalars(select(JournalEntry))]
            assert kinds.count("result recomputed") == 1
            assert check_journal(session, shop.shop_id).whole

    def test_a_held_examination_that_is_clear_without_the_question_is_passed(
        self, database: Database, cast: Cast, examined: Course
    ) -> None:
        shop = cast.shop
        with database.writing() as session:
            stored = sat(session, shop.supervisor, shop.trainee, examined, wrong=2)
            assert stored.passed is None
            void(session, cast, examined, stored.id, missed(stored))
            assert stored.passed is True

    def test_other_disputes_of_the_same_wording_are_decided_with_it(
        self, database: Database, cast: Cast, narrow: Course
    ) -> None:
        shop = cast.shop
        with database.writing() as session:
            sit(session, shop.supervisor, narrow)
            dispute.question_a_question(
                session, actor=shop.supervisor, dispute_id=uuid4(),
                sitting_id=newest(session, shop.supervisor), question_id="safety-cord-1",
                reason="I think so too", now=NOW,
            )  # fmt: skip
            sit(session, shop.trainee, narrow)
            assert void(session, cast, narrow, newest(session, shop.trainee), "safety-cord-1") == 2
            assert [row.voided for row in disputes(session, shop.shop_id)] == [True, True]


def test_nobody_who_asked_a_spoken_question_decides(
    database: Database, cast: Cast, examined: Course
) -> None:
    """The second supervisor did not open the examination, but examined all the same."""
    shop = cast.shop
    with database.writing() as session:
        stored = sat(session, shop.supervisor, shop.trainee, examined, wrong=3)
        asked = spoken.spoken_questions(stored, examined)[0]
        spoken.record_spoken_answer(
            session, actor=shop.second_supervisor, sitting_id=stored.id, spoken_id=asked.id,
            answer="so", satisfactory=False, course=examined, now=NOW,
        )  # fmt: skip
        made = uuid4()
        dispute.question_a_question(
            session, actor=shop.trainee, dispute_id=made, sitting_id=stored.id,
            question_id=missed(stored), reason="both can be right", now=NOW,
        )  # fmt: skip
        session.flush()
        with pytest.raises(dispute.NotUninvolved):
            dispute.decide_dispute(
                session, actor=shop.second_supervisor, dispute_id=made, voided=True,
                decision="so", wrote_it=False, course=examined, now=NOW,
            )  # fmt: skip


def missed(stored: Sitting) -> str:
    """Return a question that was not right."""
    assert stored.result is not None
    return next(str(asked[0]) for asked in stored.result["questions"] if asked[2] < 100)
