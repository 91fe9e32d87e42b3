"""Examinations: who opens, begins, answers, enters and decides them, and by which clock."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any
from uuid import UUID

import pytest
from sqlalchemy.orm import Session

from academy.domain.assessment.examination import Adjustments
from academy.domain.assessment.key import right_response
from academy.domain.assessment.retake import RestudyFirst, TooSoon
from academy.domain.curriculum.course import Course
from academy.domain.people.policies import NotTheirOwn
from academy.services import examination, examination_paper, sitting, spoken
from academy.services.actor import Actor, NotAllowed, NotFound
from academy.services.journal import check_journal
from academy.services.open_forms import asked_now
from academy.store.database import Database
from academy.store.queries.examinations import (
    examinations,
    paper_entries,
    spoken_answers,
)
from academy.store.queries.study import responses
from academy.store.tables.study import Sitting
from tests.support.cast import Cast
from tests.support.clock import NOW, later
from tests.support.evidence import evidence_on
from tests.support.examinations import an_examined_course, answered, opened, read_again, sat
from tests.support.journey import form_of, give


@pytest.fixture
def course() -> Course:
    return an_examined_course()


class TestWhoMay:
    @pytest.mark.parametrize(
        ("who", "refusal"),
        [
            ("owner", NotAllowed),
            ("supervisor", None),
            ("second_supervisor", None),
            ("trainee", NotAllowed),
        ],
    )
    def test_open_for_a_trainee(
        self, sqlite: Database, cast_sqlite: Cast, course: Course, who: str, refusal: Any
    ) -> None:
        shop = cast_sqlite.shop
        _allowed(sqlite, refusal, lambda s: opened(s, getattr(shop, who), shop.trainee, course))

    def test_nobody_opens_their_own(
        self, sqlite: Database, cast_sqlite: Cast, course: Course
    ) -> None:
        shop = cast_sqlite.shop
        _allowed(sqlite, NotTheirOwn, lambda s: opened(s, shop.supervisor, shop.supervisor, course))

    @pytest.mark.parametrize("who", ["second_supervisor", "owner"])
    def test_only_a_trainee_is_examined(
        self, sqlite: Database, cast_sqlite: Cast, course: Course, who: str
    ) -> None:
        shop = cast_sqlite.shop
        _allowed(
            sqlite,
            examination.NotACandidate,
            lambda s: opened(s, shop.supervisor, getattr(shop, who), course),
        )

    def test_a_stranger_is_no_candidate(
        self, sqlite: Database, cast_sqlite: Cast, course: Course
    ) -> None:
        cast = cast_sqlite
        _allowed(
            sqlite,
            examination.NotACandidate,
            lambda s: opened(s, cast.shop.supervisor, cast.strangers.trainee, course),
        )

    @pytest.mark.parametrize(
        ("who", "refusal"),
        [("owner", NotFound), ("supervisor", None), ("second_supervisor", NotFound),
         ("trainee", None)],
    )  # fmt: skip
    def test_begin(
        self, sqlite: Database, cast_sqlite: Cast, course: Course, who: str, refusal: Any
    ) -> None:
        def begin(session: Session) -> None:
            shop = cast_sqlite.shop
            made = opened(session, shop.supervisor, shop.trainee, course)
            examination.begin_examination(
                session, actor=getattr(shop, who), sitting_id=made, now=NOW
            )

        _allowed(sqlite, refusal, begin)

    @pytest.mark.parametrize("who", ["owner", "supervisor", "second_supervisor"])
    def test_only_the_candidate_answers(
        self, sqlite: Database, cast_sqlite: Cast, course: Course, who: str
    ) -> None:
        def answer(session: Session) -> None:
            shop = cast_sqlite.shop
            made = _begun(session, cast_sqlite, course)
            first = form_of(session, shop.shop_id, made).question_ids[0]
            give(session, getattr(shop, who), made, first, {"chosen": [1]})

        _allowed(sqlite, NotFound, answer)

    @pytest.mark.parametrize(
        ("who", "refusal"),
        [
            ("owner", None),
            ("supervisor", None),
            ("second_supervisor", None),
            ("trainee", NotAllowed),
        ],
    )
    def test_enter_a_paper(
        self, sqlite: Database, cast_sqlite: Cast, course: Course, who: str, refusal: Any
    ) -> None:
        def enter(session: Session) -> None:
            shop = cast_sqlite.shop
            made = opened(session, shop.supervisor, shop.trainee, course, on_paper=True)
            _enter(session, getattr(shop, who), made, course, {})

        _allowed(sqlite, refusal, enter)

    @pytest.mark.parametrize(
        ("who", "refusal"),
        [
            ("owner", NotAllowed),
            ("supervisor", None),
            ("second_supervisor", None),
            ("trainee", NotAllowed),
        ],
    )
    def test_decide_a_held_result_and_close_an_overdue_one(
        self, sqlite: Database, cast_sqlite: Cast, course: Course, who: str, refusal: Any
    ) -> None:
        shop = cast_sqlite.shop

        def ask(session: Session) -> None:
            held = sat(session, shop.supervisor, shop.trainee, course, wrong=3)
            _speak(session, getattr(shop, who), held, course, satisfactory=True)

        def close(session: Session) -> None:
            made = _begun(session, cast_sqlite, course)
            examination.close_overdue(
                session,
                actor=getattr(shop, who),
                sitting_id=made,
                course=course,
                now=later(minutes=41),
            )

        _allowed(sqlite, refusal, ask)
        _allowed(sqlite, refusal, close)

    @pytest.mark.parametrize(
        ("who", "refusal"),
        [
            ("owner", NotAllowed),
            ("supervisor", None),
            ("second_supervisor", None),
            ("trainee", NotAllowed),
        ],
    )
    def test_withdraw_one_that_nobody_has_begun(
        self, sqlite: Database, cast_sqlite: Cast, course: Course, who: str, refusal: Any
    ) -> None:
        def withdraw(session: Session) -> None:
            shop = cast_sqlite.shop
            made = opened(session, shop.supervisor, shop.trainee, course)
            with pytest.raises(examination.ExaminationWaiting):
                opened(session, shop.second_supervisor, shop.trainee, course)
            for _ in range(2):
                examination.withdraw_examination(
                    session, actor=getattr(shop, who), sitting_id=made, now=NOW
                )
            opened(session, shop.supervisor, shop.trainee, course)
            assert check_journal(session, shop.shop_id).whole

        _allowed(sqlite, refusal, withdraw)

    @pytest.mark.parametrize("on_paper", [False, True])
    def test_what_has_begun_or_was_entered_is_not_withdrawn(
        self, sqlite: Database, cast_sqlite: Cast, course: Course, on_paper: bool
    ) -> None:
        shop = cast_sqlite.shop

        def withdraw(session: Session) -> None:
            if on_paper:
                made = opened(session, shop.supervisor, shop.trainee, course, on_paper=True)
                _enter(session, shop.supervisor, made, course, {})
            else:
                made = _begun(session, cast_sqlite, course)
            examination.withdraw_examination(
                session, actor=shop.supervisor, sitting_id=made, now=NOW
            )

        _allowed(sqlite, examination.Begun, withdraw)

    def test_another_shops_supervisor_finds_nothing(
        self, sqlite: Database, cast_sqlite: Cast, course: Course
    ) -> None:
        def reach(use: Callable[[Session, Actor, UUID], object]) -> None:
            def run(session: Session) -> None:
                held = sat(
                    session, cast_sqlite.shop.supervisor, cast_sqlite.shop.trainee, course, 3
                )
                use(session, cast_sqlite.strangers.supervisor, held.id)

            _allowed(sqlite, NotFound, run)

        reach(lambda s, a, i: _enter(s, a, i, course, {}))
        reach(
            lambda s, a, i: examination.close_overdue(
                s, actor=a, sitting_id=i, course=course, now=NOW
            )
        )
        reach(lambda s, a, i: examination.begin_examination(s, actor=a, sitting_id=i, now=NOW))
        reach(lambda s, a, i: examination.withdraw_examination(s, actor=a, sitting_id=i, now=NOW))
        reach(lambda s, a, i: spoken.record_spoken_answer(
            s, actor=a, sitting_id=i, spoken_id="s1", answer="", satisfactory=True,
            course=course, now=NOW,
        ))  # fmt: skip


class TestTheClock:
    def test_it_starts_once_and_ends_with_the_extra_time(
        self, database: Database, cast: Cast, course: Course
    ) -> None:
        with database.writing() as session:
            shop = cast.shop
            made = opened(
                session, shop.supervisor, shop.trainee, course, adjustments=Adjustments(50)
            )
            first = form_of(session, shop.shop_id, made).question_ids[0]
            with pytest.raises(sitting.NotBegun):
                give(session, shop.trainee, made, first, {"chosen": [1]})
            with pytest.raises(sitting.NotBegun):
                sitting.submit_sitting(
                    session, actor=shop.trainee, sitting_id=made, course=course, now=NOW
                )
            for at in (NOW, later(minutes=30)):
                examination.begin_examination(session, actor=shop.trainee, sitting_id=made, now=at)
            assert asked_now(session, shop.trainee).examining
            give(session, shop.trainee, made, first, {"chosen": [1]}, later(minutes=60))
            with pytest.raises(sitting.TimeIsUp):
                give(session, shop.trainee, made, first, {"chosen": [2]}, later(minutes=60.1))
            sitting.submit_sitting(
                session, actor=shop.trainee, sitting_id=made, course=course, now=later(minutes=90)
            )
            assert responses(session, shop.shop_id, made) == {first: {"chosen": [1]}}

    def test_one_never_handed_in_is_closed_after_its_time_with_what_was_answered(
        self, database: Database, cast: Cast, course: Course
    ) -> None:
        with database.writing() as session:
            made = _begun(session, cast, course)
            answered(session, cast.shop.trainee, made, wrong=0)
            for at, refused in ((later(minutes=40), True), (later(minutes=41), False)):
                if refused:
                    with pytest.raises(examination.StillRunning):
                        _close(session, cast, made, course, at)
                else:
                    _close(session, cast, made, course, at)
            assert session.get_one(Sitting, (cast.shop.shop_id, made)).passed is True
            assert check_journal(session, cast.shop.shop_id).whole

    def test_the_next_one_waits_as_long_as_the_rule_says(
        self, database: Database, cast: Cast, course: Course
    ) -> None:
        with database.writing() as session:
            shop = cast.shop
            assert sat(session, shop.supervisor, shop.trainee, course, wrong=9).passed is False
            with pytest.raises(TooSoon, match="2026-03-09"):
                opened(session, shop.supervisor, shop.trainee, course, later(days=6))
            with pytest.raises(RestudyFirst, match="Before you start"):
                opened(session, shop.supervisor, shop.trainee, course, later(days=7))
            read_again(session, shop.trainee, course, later(days=7))
            again = opened(session, shop.supervisor, shop.trainee, course, later(days=7))
            assert session.get(Sitting, (shop.shop_id, again)) is not None

    def test_above_the_mark_and_failed_by_the_three_questions_waits_as_long(
        self, database: Database, cast: Cast, course: Course
    ) -> None:
        with database.writing() as session:
            shop = cast.shop
            held = sat(session, shop.supervisor, shop.trainee, course, wrong=2)
            for _ in range(3):
                _speak(session, shop.supervisor, held, course, satisfactory=False)
            assert held.passed is False
            with pytest.raises(TooSoon):
                opened(session, shop.supervisor, shop.trainee, course, later(days=6))


class TestNearTheMark:
    """Ten questions at 70: the cut is 7 and one standard error 1.45 questions."""

    @pytest.mark.parametrize(("wrong", "passed"), [(0, True), (2, None), (4, None), (5, False)])
    def test_only_a_result_near_the_mark_is_held(
        self, sqlite: Database, cast_sqlite: Cast, course: Course, wrong: int, passed: bool | None
    ) -> None:
        with sqlite.writing() as session:
            shop = cast_sqlite.shop
            assert sat(session, shop.supervisor, shop.trainee, course, wrong).passed is passed

    @pytest.mark.parametrize(("good", "passed"), [(3, True), (2, True), (1, False)])
    def test_three_answers_decide_it_and_each_is_kept_with_its_question(
        self, database: Database, cast: Cast, course: Course, good: int, passed: bool
    ) -> None:
        with database.writing() as session:
            shop = cast.shop
            held = sat(session, shop.supervisor, shop.trainee, course, wrong=4)
            assert not evidence_on(
                session, shop.shop_id, shop.trainee.person_id, NOW.date()
            ).examinations
            for number in range(3):
                assert held.passed is None
                _speak(session, shop.second_supervisor, held, course, satisfactory=number < good)
            assert held.passed is passed
            kept = spoken_answers(session, shop.shop_id, held.id)
            assert [row.satisfactory for row in kept].count(True) == good
            assert all("Ask" in row.question["text_html"] for row in kept)
            found = evidence_on(
                session, shop.shop_id, shop.trainee.person_id, NOW.date()
            ).examinations
            assert bool(found) is passed
            assert check_journal(session, shop.shop_id).whole

    def test_the_same_answer_sent_twice_is_kept_once(
        self, database: Database, cast: Cast, course: Course
    ) -> None:
        with database.writing() as session:
            shop = cast.shop
            held = sat(session, shop.supervisor, shop.trainee, course, wrong=4)
            name = spoken.spoken_questions(held, course)[0].id
            for satisfactory in (False, True):
                spoken.record_spoken_answer(
                    session, actor=shop.supervisor, sitting_id=held.id, spoken_id=name,
                    answer="said so", satisfactory=satisfactory, course=course, now=NOW,
                )  # fmt: skip
            kept = spoken_answers(session, shop.shop_id, held.id)
            assert [row.satisfactory for row in kept] == [False]

    def test_a_question_that_was_not_prepared_is_refused(
        self, sqlite: Database, cast_sqlite: Cast, course: Course
    ) -> None:
        with sqlite.writing() as session:
            shop = cast_sqlite.shop
            held = sat(session, shop.supervisor, shop.trainee, course, wrong=3)
            with pytest.raises(spoken.NotPrepared):
                spoken.record_spoken_answer(
                    session, actor=shop.supervisor, sitting_id=held.id, spoken_id="made up",
                    answer="", satisfactory=True, course=course, now=NOW,
                )  # fmt: skip

    def test_what_was_missed_is_asked_about_first(
        self, sqlite: Database, cast_sqlite: Cast, course: Course
    ) -> None:
        with sqlite.writing() as session:
            shop = cast_sqlite.shop
            held = sat(session, shop.supervisor, shop.trainee, course, wrong=3)
            assert held.result is not None
            missed = {row[1] for row in held.result["questions"] if row[2] < 100}
            asked = [q.objective_id for q in spoken.spoken_questions(held, course)]
            prepared = {q.objective_id for q in course.spoken}
            first = len(missed & prepared)
            assert len(asked) == 3
            assert set(asked[:first]) <= missed
            assert asked == [q.objective_id for q in spoken.spoken_questions(held, course)]


class TestOnPaper:
    def test_two_equal_entries_hand_it_in(
        self, database: Database, cast: Cast, course: Course
    ) -> None:
        with database.writing() as session:
            made, right = _paper(session, cast, course)
            assert _enter(session, cast.shop.supervisor, made, course, right) is False
            assert _enter(session, cast.shop.supervisor, made, course, right) is False
            assert len(paper_entries(session, cast.shop.shop_id, made)) == 1
            assert _enter(session, cast.shop.second_supervisor, made, course, right) is True
            assert session.get_one(Sitting, (cast.shop.shop_id, made)).passed is True
            assert responses(session, cast.shop.shop_id, made) == right

    def test_a_difference_names_the_question_and_the_first_may_be_mended(
        self, database: Database, cast: Cast, course: Course
    ) -> None:
        with database.writing() as session:
            made, right = _paper(session, cast, course)
            third = form_of(session, cast.shop.shop_id, made).question_ids[2]
            misread = right | {third: {"chosen": [4]}}
            _enter(session, cast.shop.supervisor, made, course, misread)
            with pytest.raises(examination_paper.EntriesDiffer, match="question 3;"):
                _enter(session, cast.shop.second_supervisor, made, course, right)
            assert len(paper_entries(session, cast.shop.shop_id, made)) == 1
            assert _enter(session, cast.shop.supervisor, made, course, right) is False
            assert _enter(session, cast.shop.second_supervisor, made, course, right) is True

    def test_nothing_is_shown_on_a_device(
        self, sqlite: Database, cast_sqlite: Cast, course: Course
    ) -> None:
        with sqlite.writing() as session:
            made, _ = _paper(session, cast_sqlite, course)
            with pytest.raises(examination.OnPaper):
                examination.begin_examination(
                    session, actor=cast_sqlite.shop.trainee, sitting_id=made, now=NOW
                )

    def test_one_on_a_device_is_not_entered(
        self, sqlite: Database, cast_sqlite: Cast, course: Course
    ) -> None:
        with sqlite.writing() as session:
            made = _begun(session, cast_sqlite, course)
            with pytest.raises(examination_paper.NotOnPaper):
                _enter(session, cast_sqlite.shop.supervisor, made, course, {})


def test_the_list_shows_every_examination_of_the_shop_and_no_other(
    database: Database, cast: Cast, course: Course
) -> None:
    with database.writing() as session:
        mine = opened(session, cast.shop.supervisor, cast.shop.trainee, course)
        opened(session, cast.strangers.supervisor, cast.strangers.trainee, course)
        assert [row.id for row in examinations(session, cast.shop.shop_id)] == [mine]


def _allowed(database: Database, refusal: Any, use: Callable[[Session], object]) -> None:
    with database.writing() as session:
        if refusal is None:
            use(session)
        else:
            with pytest.raises(refusal):
                use(session)


def _begun(session: Session, cast: Cast, course: Course) -> UUID:
    made = opened(session, cast.shop.supervisor, cast.shop.trainee, course)
    examination.begin_examination(session, actor=cast.shop.trainee, sitting_id=made, now=NOW)
    return made


def _close(session: Session, cast: Cast, made: UUID, course: Course, at: Any) -> None:
    examination.close_overdue(
        session, actor=cast.shop.supervisor, sitting_id=made, course=course, now=at
    )


def _speak(
    session: Session, by: Actor, held: Sitting, course: Course, *, satisfactory: bool
) -> None:
    known = {row.spoken_id for row in spoken_answers(session, held.shop_id, held.id)}
    asked = [q for q in spoken.spoken_questions(held, course) if q.id not in known]
    spoken.record_spoken_answer(
        session, actor=by, sitting_id=held.id, spoken_id=asked[0].id, answer="said so",
        satisfactory=satisfactory, course=course, now=NOW,
    )  # fmt: skip


def _paper(session: Session, cast: Cast, course: Course) -> tuple[UUID, dict[str, Any]]:
    made = opened(session, cast.shop.supervisor, cast.shop.trainee, course, on_paper=True)
    items = form_of(session, cast.shop.shop_id, made).questions
    return made, {item.question.id: right_response(item.question) for item in items}


def _enter(session: Session, by: Actor, made: UUID, course: Course, given: dict[str, Any]) -> bool:
    handed_in = examination_paper.enter_paper(
        session, actor=by, sitting_id=made, responses=given, course=course, now=NOW
    )
    session.flush()
    return handed_in
