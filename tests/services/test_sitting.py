"""Sitting a quiz: what is drawn stays, what is answered stays, and it is scored once."""

from __future__ import annotations

from dataclasses import replace
from typing import Any
from uuid import UUID, uuid4

import pytest
from sqlalchemy import func, select
from sqlalchemy.orm import Session

from academy.domain.assessment.frozen import drawn_form_from_frozen
from academy.domain.assessment.key import right_response
from academy.domain.curriculum.course import Course
from academy.services import quiz, sitting
from academy.services.actor import Actor, NotFound
from academy.services.evidence import progress_in, who_passed_something
from academy.services.quiz import ModulePassed
from academy.services.sitting import DecisionTaken, NotOnThisForm, SittingSubmitted
from academy.store.database import Database
from academy.store.queries.study import open_sitting_of, responses, sittings_of, times_seen
from academy.store.queries.study import sitting as stored_sitting
from academy.store.tables.study import Answer, Sitting, SittingQuestion
from tests.support.cast import Cast
from tests.support.clock import NOW, later
from tests.support.course import a_blueprint, a_course, a_module, a_question, a_scenario
from tests.support.journey import form_of, give, sit


def opened(session: Session, actor: Actor, course: Course, sitting_id: UUID | None = None) -> UUID:
    """Open a sitting of the course's first module."""
    return quiz.open_quiz(
        session, actor=actor, sitting_id=sitting_id or uuid4(), module=course.modules[0], now=NOW
    )


def submitted(session: Session, actor: Actor, sitting_id: UUID, course: Course) -> bool:
    """Submit a sitting and return whether it passed."""
    return sitting.submit_sitting(
        session, actor=actor, sitting_id=sitting_id, course=course, now=later(minutes=30)
    ).passed


class TestOpening:
    def test_the_same_id_sent_twice_opens_one_sitting(
        self, database: Database, cast: Cast, course: Course
    ) -> None:
        sitting_id = uuid4()
        for _ in range(2):
            with database.writing() as session:
                assert opened(session, cast.shop.trainee, course, sitting_id) == sitting_id
        with database.reading() as session:
            assert session.scalar(select(func.count()).select_from(Sitting)) == 1

    def test_an_open_sitting_is_resumed_on_another_device(
        self, database: Database, cast: Cast, course: Course
    ) -> None:
        with database.writing() as session:
            on_phone = opened(session, cast.shop.trainee, course)
            form = form_of(session, cast.shop.shop_id, on_phone)
            give(session, cast.shop.trainee, on_phone, form.question_ids[0], {"chosen": 3})
        with database.writing() as session:
            assert opened(session, cast.shop.trainee, course) == on_phone
            assert form_of(session, cast.shop.shop_id, on_phone) == form
            assert responses(session, cast.shop.shop_id, on_phone) == {
                form.question_ids[0]: {"chosen": 3}
            }

    def test_everybody_has_a_sitting_of_their_own(
        self, database: Database, cast: Cast, course: Course
    ) -> None:
        with database.writing() as session:
            first = opened(session, cast.shop.trainee, course)
            assert opened(session, cast.shop.supervisor, course) != first

    def test_somebody_elses_id_is_not_found(
        self, database: Database, cast: Cast, course: Course
    ) -> None:
        with database.writing() as session:
            taken = opened(session, cast.shop.trainee, course)
            with pytest.raises(NotFound):
                opened(session, cast.shop.supervisor, course, taken)

    def test_a_strangers_id_means_nothing_in_this_shop(
        self, database: Database, cast: Cast, course: Course
    ) -> None:
        with database.writing() as session:
            theirs = opened(session, cast.strangers.trainee, course)
            assert opened(session, cast.shop.trainee, course, theirs) == theirs
            assert open_sitting_of(session, cast.shop.shop_id, cast.shop.trainee.person_id)
        with database.reading() as session:
            mine = stored_sitting(session, cast.shop.shop_id, cast.shop.trainee.person_id, theirs)
            assert mine is not None
            assert mine.person_id == cast.shop.trainee.person_id

    def test_a_form_keeps_its_wording_when_the_course_changes(
        self, database: Database, cast: Cast, course: Course
    ) -> None:
        with database.writing() as session:
            sitting_id = opened(session, cast.shop.trainee, course)
            before = form_of(session, cast.shop.shop_id, sitting_id)
        reworded = a_course([
            replace(
                course.modules[0],
                questions=tuple(
                    replace(q, stem_html="<p>Other words</p>", key=(4,))
                    for q in course.modules[0].questions
                ),
            )
        ])  # fmt: skip
        with database.writing() as session:
            assert form_of(session, cast.shop.shop_id, sitting_id) == before
            for item in before.questions:
                give(session, cast.shop.trainee, sitting_id, item.question.id, {"chosen": 1})
            assert submitted(session, cast.shop.trainee, sitting_id, reworded)

    def test_a_passed_module_is_not_sat_again(
        self, database: Database, cast: Cast, course: Course
    ) -> None:
        with database.writing() as session:
            assert sit(session, cast.shop.trainee, course).passed
            with pytest.raises(ModulePassed):
                opened(session, cast.shop.trainee, course)

    def test_the_second_form_brings_the_questions_not_seen_yet(
        self, database: Database, cast: Cast, course: Course
    ) -> None:
        """Four of each objective, two on a form: the second form holds the other four."""
        trainee = cast.shop.trainee
        with database.writing() as session:
            sit(session, trainee, course, wrong=("cord", "goggles"))
            first = set(times_seen(session, trainee.shop_id, trainee.person_id))
            second = form_of(session, trainee.shop_id, opened(session, trainee, course))
        assert first.isdisjoint(second.question_ids)


class TestMustKnowObjectives:
    @pytest.fixture
    def lenient(self) -> Course:
        """Return a course whose cut is reached with half of the questions."""
        module = a_module()
        easy = tuple(replace(q, rating_percent=50) for q in module.questions)
        return a_course([replace(module, questions=easy)])

    def test_missed_ones_are_asked_again_and_then_the_module_is_passed(
        self, database: Database, cast: Cast, lenient: Course
    ) -> None:
        trainee = cast.shop.trainee
        with database.writing() as session:
            first = sit(session, trainee, lenient, wrong=("cord",))
            assert first.reached_cut
            assert not first.passed
            progress = progress_in(session, trainee.shop_id, trainee.person_id, "safety")
            assert progress.open_must_know == ("cord",)
            assert not who_passed_something(session, trainee.shop_id)
        with database.writing() as session:
            second = sit(session, trainee, lenient, later(days=1))
            assert [q.objective_id for q in second.questions] == ["cord", "cord"]
            assert {q.question_id for q in second.questions}.isdisjoint(
                q.question_id for q in first.questions
            )
            progress = progress_in(session, trainee.shop_id, trainee.person_id, "safety")
            assert progress.passed_at == later(days=1)
            assert who_passed_something(session, trainee.shop_id) == {trainee.person_id}
            assert not who_passed_something(session, cast.strangers.shop_id)

    def test_others_are_not(self, database: Database, cast: Cast, lenient: Course) -> None:
        with database.writing() as session:
            assert sit(session, cast.shop.trainee, lenient, wrong=("goggles",)).passed


class TestAnswering:
    def test_the_same_answer_sent_twice_is_saved_once(
        self, database: Database, cast: Cast, course: Course
    ) -> None:
        trainee, answer_id = cast.shop.trainee, uuid4()
        with database.writing() as session:
            sitting_id = opened(session, trainee, course)
            name = form_of(session, trainee.shop_id, sitting_id).question_ids[0]
        for chosen in (1, 2):
            with database.writing() as session:
                sitting.save_answer(
                    session, actor=trainee, sitting_id=sitting_id, answer_id=answer_id,
                    question_id=name, response={"chosen": chosen}, now=NOW,
                )  # fmt: skip
        with database.reading() as session:
            assert responses(session, trainee.shop_id, sitting_id) == {name: {"chosen": 1}}
            assert session.scalar(select(func.count()).select_from(Answer)) == 1

    def test_a_later_answer_counts_and_the_earlier_stays(
        self, database: Database, cast: Cast, course: Course
    ) -> None:
        trainee = cast.shop.trainee
        with database.writing() as session:
            sitting_id = opened(session, trainee, course)
            name = form_of(session, trainee.shop_id, sitting_id).question_ids[0]
            for chosen in (2, 3, 1):
                give(session, trainee, sitting_id, name, {"chosen": chosen})
            assert responses(session, trainee.shop_id, sitting_id) == {name: {"chosen": 1}}
            kept = session.scalars(select(Answer.response).order_by(Answer.number))
            assert [response["chosen"] for response in kept] == [2, 3, 1]

    def test_a_question_of_another_form_is_refused(
        self, database: Database, cast: Cast, course: Course
    ) -> None:
        with database.writing() as session:
            sitting_id = opened(session, cast.shop.trainee, course)
            with pytest.raises(NotOnThisForm):
                give(session, cast.shop.trainee, sitting_id, "rotary-1", {"chosen": 1})

    def test_nothing_is_answered_after_submission(
        self, database: Database, cast: Cast, course: Course
    ) -> None:
        trainee = cast.shop.trainee
        with database.writing() as session:
            sitting_id = opened(session, trainee, course)
            assert not submitted(session, trainee, sitting_id, course)
            name = form_of(session, trainee.shop_id, sitting_id).question_ids[0]
            with pytest.raises(SittingSubmitted):
                give(session, trainee, sitting_id, name, {"chosen": 1})

    @pytest.mark.parametrize("who", ["stranger", "colleague"])
    def test_nobody_answers_or_submits_for_somebody_else(
        self, database: Database, cast: Cast, course: Course, who: str
    ) -> None:
        other = cast.strangers.trainee if who == "stranger" else cast.shop.supervisor
        with database.writing() as session:
            sitting_id = opened(session, cast.shop.trainee, course)
            name = form_of(session, cast.shop.shop_id, sitting_id).question_ids[0]
            with pytest.raises(NotFound):
                give(session, other, sitting_id, name, {"chosen": 1})
            with pytest.raises(NotFound):
                submitted(session, other, sitting_id, course)
            assert stored_sitting(session, other.shop_id, other.person_id, sitting_id) is None

    @pytest.mark.parametrize(
        "response",
        [
            {},
            {"chosen": None},
            {"chosen": [1, 2, 3]},
            {"chosen": "x" * 5000},
            {"value": "1e999999999"},
            {"chosen": {"deep": [[[[1]]]]}},
            {"\u0000": "\u0000"},
        ],
        ids=range(7),
    )
    def test_a_nonsense_answer_is_kept_and_earns_nothing(
        self, database: Database, cast: Cast, course: Course, response: dict[str, Any]
    ) -> None:
        trainee = cast.shop.trainee
        with database.writing() as session:
            sitting_id = opened(session, trainee, course)
            for name in form_of(session, trainee.shop_id, sitting_id).question_ids:
                give(session, trainee, sitting_id, name, response)
            result = sitting.submit_sitting(
                session, actor=trainee, sitting_id=sitting_id, course=course, now=NOW
            )
        assert result.score_points == 0


class TestAScenario:
    @pytest.fixture
    def unfolding(self) -> Course:
        """Return a course whose quiz is one scenario."""
        module = a_module(
            questions=(a_scenario(objective_id="cord"),),
            blueprint=a_blueprint({"cord": 1}),
        )
        return a_course([module])

    def test_a_decision_that_changed_the_panel_stays_taken(
        self, database: Database, cast: Cast, unfolding: Course
    ) -> None:
        trainee = cast.shop.trainee
        with database.writing() as session:
            sitting_id = opened(session, trainee, unfolding)
            give(session, trainee, sitting_id, "scenario", {"choices": {"first": 2}})
            retaken: tuple[dict[str, Any], ...] = (
                {"choices": {"first": 1}},
                {"choices": {"second": 2}},
                {"choices": {}},
                {"choices": {"first": 1, "second": 2}},
            )
            for response in retaken:
                with pytest.raises(DecisionTaken):
                    give(session, trainee, sitting_id, "scenario", response)
            give(session, trainee, sitting_id, "scenario", {"choices": {"first": 2, "second": 2}})
            result = sitting.submit_sitting(
                session, actor=trainee, sitting_id=sitting_id, course=unfolding, now=NOW
            )
        assert result.score_points == 40


class TestSubmitting:
    def test_submitting_twice_gives_the_first_result(
        self, database: Database, cast: Cast, course: Course
    ) -> None:
        trainee = cast.shop.trainee
        with database.writing() as session:
            sitting_id = opened(session, trainee, course)
            for item in form_of(session, trainee.shop_id, sitting_id).questions:
                give(session, trainee, sitting_id, item.question.id, right_response(item.question))
            first = sitting.submit_sitting(
                session, actor=trainee, sitting_id=sitting_id, course=course, now=later(hours=1)
            )
        with database.writing() as session:
            again = sitting.submit_sitting(
                session, actor=trainee, sitting_id=sitting_id, course=course, now=later(hours=9)
            )
        assert again == first
        with database.reading() as session:
            (summary,) = sittings_of(session, trainee.shop_id, trainee.person_id)
            assert (summary.submitted_at, summary.passed) == (later(hours=1), True)

    def test_each_question_of_the_form_keeps_what_it_earned(
        self, database: Database, cast: Cast, course: Course
    ) -> None:
        with database.writing() as session:
            result = sit(session, cast.shop.trainee, course, wrong=("goggles",))
            rows = session.execute(select(SittingQuestion.question_id, SittingQuestion.marks))
            assert {row[0]: row[1] for row in rows} == {
                question.question_id: question.marks for question in result.questions
            }

    def test_the_form_is_drawn_by_the_seed_it_keeps(
        self, database: Database, cast: Cast, course: Course
    ) -> None:
        with database.writing() as session:
            ids = [opened(session, actor, course) for actor in cast.shop.everybody]
            seeds = {
                drawn_form_from_frozen(
                    session.get_one(Sitting, (cast.shop.shop_id, sitting_id)).form
                ).seed
                for sitting_id in ids
            }
        assert len(seeds) == len(ids)


def test_a_course_that_cannot_fill_its_form_opens_no_sitting(
    database: Database, cast: Cast
) -> None:
    thin = a_course([a_module(questions=(a_question(objective_id="cord"),))])
    with pytest.raises(Exception, match="and the form needs 2"), database.writing() as session:
        opened(session, cast.shop.trainee, thin)
    with database.reading() as session:
        assert session.scalar(select(func.count()).select_from(Sitting)) == 0
