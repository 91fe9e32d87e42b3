"""Practice never counts or helps what counts; disputes are decided by others and take nothing back."""

from __future__ import annotations

from typing import Any
from uuid import UUID, uuid4

import pytest
from sqlalchemy.orm import Session

from academy.domain.assessment.progress import Purpose
from academy.domain.curriculum.course import Course
from academy.domain.people.policies import NotTheirOwn
from academy.services import dispute, practice, quiz, refreshers, sitting
from academy.services.actor import Actor, NotAllowed, NotFound
from academy.services.evidence import progress_in
from academy.services.experience import record_experience
from academy.services.journal import check_journal
from academy.services.open_forms import HandInFirst
from academy.services.study import next_step
from academy.store.database import Database
from academy.store.queries.disputes import disputes, voided_digests
from academy.store.queries.experiences import experienced_modules, experiences
from academy.store.queries.study import sittings_of
from academy.store.tables.study import Sitting
from tests.support.cast import Cast
from tests.support.clock import NOW, later
from tests.support.journey import form_of, sit

REASON = "both answers can be right"


def practise(session: Session, cast: Cast, course: Course) -> UUID:
    """Open a practice of the first module."""
    made = practice.open_practice(
        session, actor=cast.shop.trainee, sitting_id=uuid4(), module=course.modules[0], now=NOW
    )
    session.flush()
    return made


class TestPractice:
    def test_it_keeps_unseen_must_know_questions_back(
        self, database: Database, cast: Cast, course: Course
    ) -> None:
        with database.writing() as session:
            form = form_of(session, cast.shop.shop_id, practise(session, cast, course))
            assert {item.question.objective_id for item in form.questions} == {"goggles"}

    def test_it_passes_no_module_and_is_no_quiz(
        self, database: Database, cast: Cast, course: Course
    ) -> None:
        with database.writing() as session:
            made = practise(session, cast, course)
            assert practise(session, cast, course) == made
            assert next_step(session, actor=cast.shop.trainee, course=course).kind == "lesson"
            opened = quiz.open_quiz(
                session, actor=cast.shop.trainee, sitting_id=uuid4(), module=course.modules[0],
                now=NOW,
            )  # fmt: skip
            assert opened != made
            sitting.submit_sitting(
                session, actor=cast.shop.trainee, sitting_id=made, course=course, now=NOW
            )
            person = cast.shop.trainee.person_id
            assert progress_in(session, cast.shop.shop_id, person, "safety").sittings == 0

    def test_it_waits_while_a_quiz_of_the_module_is_open(
        self, sqlite: Database, cast_sqlite: Cast, course: Course
    ) -> None:
        with sqlite.writing() as session:
            quiz.open_quiz(
                session, actor=cast_sqlite.shop.trainee, sitting_id=uuid4(),
                module=course.modules[0], now=NOW,
            )  # fmt: skip
            session.flush()
            with pytest.raises(HandInFirst):
                practise(session, cast_sqlite, course)

    def test_somebody_elses_practice_is_not_found(
        self, sqlite: Database, cast_sqlite: Cast, course: Course
    ) -> None:
        with sqlite.writing() as session:
            made = practise(session, cast_sqlite, course)
            with pytest.raises(NotFound):
                practice.open_practice(
                    session, actor=cast_sqlite.shop.supervisor, sitting_id=made,
                    module=course.modules[0], now=NOW,
                )  # fmt: skip


class TestFiveQuestions:
    def test_before_anything_is_passed_there_are_none(
        self, sqlite: Database, cast_sqlite: Cast, course: Course
    ) -> None:
        with sqlite.writing() as session, pytest.raises(refreshers.NothingToRefresh):
            _refresh(session, cast_sqlite.shop.trainee, course)

    def test_they_come_from_what_was_passed_and_move_the_gap(
        self, database: Database, cast: Cast, course: Course
    ) -> None:
        with database.writing() as session:
            trainee = cast.shop.trainee
            sit(session, trainee, course)
            before = refreshers.refreshers_of(session, trainee.shop_id, trainee.person_id, course)
            made = _refresh(session, trainee, course)
            items = form_of(session, trainee.shop_id, made).questions
            assert {item.question.objective_id for item in items} == {"cord", "goggles"}
            sitting.submit_sitting(
                session, actor=trainee, sitting_id=made, course=course, now=later(days=9)
            )
            session.flush()
            after = refreshers.refreshers_of(session, trainee.shop_id, trainee.person_id, course)
            assert all(a.last_at > b.last_at for a, b in zip(after, before, strict=True))
            assert all(a.gap_days <= b.gap_days for a, b in zip(after, before, strict=True))
            person = trainee.person_id
            assert progress_in(session, trainee.shop_id, person, "safety").passed_at is not None


class TestDisputes:
    def test_asking_twice_is_kept_once_and_seen_by_the_shop_alone(
        self, database: Database, cast: Cast, course: Course
    ) -> None:
        with database.writing() as session:
            for _ in range(2):
                _raise(session, cast, course)
            assert [row.reason for row in disputes(session, cast.shop.shop_id)] == [REASON]
            assert not disputes(session, cast.strangers.shop_id)

    def test_before_handing_in_there_is_nothing_to_question(
        self, sqlite: Database, cast_sqlite: Cast, course: Course
    ) -> None:
        with sqlite.writing() as session:
            made = practise(session, cast_sqlite, course)
            name = form_of(session, cast_sqlite.shop.shop_id, made).question_ids[0]
            with pytest.raises(dispute.NotHandedIn):
                _question(session, cast_sqlite.shop.trainee, made, name)

    @pytest.mark.parametrize(
        ("who", "wrote_it", "refusal"),
        [
            ("owner", False, None),
            ("owner", True, dispute.NotUninvolved),
            ("supervisor", False, None),
            ("second_supervisor", True, dispute.NotUninvolved),
            ("trainee", False, NotAllowed),
        ],
    )
    def test_who_may_decide(
        self,
        sqlite: Database,
        cast_sqlite: Cast,
        course: Course,
        who: str,
        wrote_it: bool,
        refusal: Any,
    ) -> None:
        with sqlite.writing() as session:
            _raise(session, cast_sqlite, course)
            actor = getattr(cast_sqlite.shop, who)
            if refusal is None:
                _decide(session, actor, course, wrote_it=wrote_it)
                with pytest.raises(dispute.AlreadyDecided):
                    _decide(session, actor, course)
            else:
                with pytest.raises(refusal):
                    _decide(session, actor, course, wrote_it=wrote_it)

    def test_nobody_decides_on_their_own_sitting(
        self, sqlite: Database, cast_sqlite: Cast, course: Course
    ) -> None:
        with sqlite.writing() as session:
            _raise(session, cast_sqlite, course, by=cast_sqlite.shop.supervisor)
            with pytest.raises(dispute.NotUninvolved):
                _decide(session, cast_sqlite.shop.supervisor, course)

    def test_another_shops_owner_finds_nothing(
        self, sqlite: Database, cast_sqlite: Cast, course: Course
    ) -> None:
        with sqlite.writing() as session:
            _raise(session, cast_sqlite, course)
            row = disputes(session, cast_sqlite.shop.shop_id)[0]
            with pytest.raises(NotFound):
                dispute.decide_dispute(
                    session, actor=cast_sqlite.strangers.owner, dispute_id=row.id, voided=True,
                    decision="no", wrote_it=False, course=course, now=NOW,
                )  # fmt: skip

    def test_voiding_changes_every_result_that_rests_on_the_wording_and_takes_no_pass(
        self, database: Database, cast: Cast, course: Course
    ) -> None:
        """Two people answered it; both results change once, and the module stays passed."""
        with database.writing() as session:
            sit(session, cast.shop.supervisor, course)
            _raise(session, cast, course)
            row = disputes(session, cast.shop.shop_id)[0]
            held_by = [
                stored
                for stored in session.query(Sitting).all()
                if row.question_id in form_of(session, stored.shop_id, stored.id).question_ids
            ]
            assert _decide(session, cast.shop.owner, course, voided=True) == len(held_by)
            for stored in held_by:
                assert stored.result is not None
                assert row.question_id not in [asked[0] for asked in stored.result["questions"]]
                assert stored.passed is True
            for person in (cast.shop.supervisor, cast.shop.trainee):
                known = progress_in(session, cast.shop.shop_id, person.person_id, "safety")
                assert known.passed_at is not None
            assert voided_digests(session, cast.shop.shop_id) == {row.question_digest}
            assert check_journal(session, cast.shop.shop_id).whole

    def test_what_stands_changes_nothing(
        self, database: Database, cast: Cast, course: Course
    ) -> None:
        with database.writing() as session:
            _raise(session, cast, course)
            assert _decide(session, cast.shop.owner, course, voided=False) == 0
            assert not voided_digests(session, cast.shop.shop_id)


class TestExperience:
    def test_lessons_may_be_skipped_and_nothing_else(
        self, database: Database, cast: Cast, course: Course
    ) -> None:
        with database.writing() as session:
            trainee, kept = cast.shop.trainee, uuid4()
            for _ in range(2):
                _record(session, cast.shop.supervisor, trainee.person_id, kept)
            session.flush()
            assert len(experiences(session, cast.shop.shop_id)) == 1
            assert experienced_modules(session, cast.shop.shop_id, trainee.person_id) == {"safety"}
            assert next_step(session, actor=trainee, course=course).kind == "quiz"
            assert not experiences(session, cast.strangers.shop_id)

    @pytest.mark.parametrize(
        ("by", "refusal"),
        [("owner", NotAllowed), ("trainee", NotAllowed), ("second_supervisor", None)],
    )
    def test_supervisors_record_it(
        self, sqlite: Database, cast_sqlite: Cast, by: str, refusal: Any
    ) -> None:
        with sqlite.writing() as session:
            actor, person = getattr(cast_sqlite.shop, by), cast_sqlite.shop.trainee.person_id
            if refusal is None:
                _record(session, actor, person, uuid4())
            else:
                with pytest.raises(refusal):
                    _record(session, actor, person, uuid4())

    def test_never_for_oneself_and_never_for_strangers(
        self, sqlite: Database, cast_sqlite: Cast
    ) -> None:
        with sqlite.writing() as session:
            by = cast_sqlite.shop.supervisor
            with pytest.raises(NotTheirOwn):
                _record(session, by, by.person_id, uuid4())
            with pytest.raises(NotFound):
                _record(session, by, cast_sqlite.strangers.trainee.person_id, uuid4())


def _refresh(session: Session, actor: Actor, course: Course) -> UUID:
    made = refreshers.open_refresher(
        session, actor=actor, sitting_id=uuid4(), course=course, now=later(days=9)
    )
    session.flush()
    return made


def _raise(session: Session, cast: Cast, course: Course, by: Actor | None = None) -> None:
    """Pass the first module and question the first item of the result."""
    actor = by or cast.shop.trainee
    known = [s for s in sittings_of(session, actor.shop_id, actor.person_id) if s.submitted_at]
    if not known:
        sit(session, actor, course)
        known = list(sittings_of(session, actor.shop_id, actor.person_id))
    assert known[0].purpose == Purpose.QUIZ
    name = form_of(session, actor.shop_id, known[0].id).question_ids[0]
    _question(session, actor, known[0].id, name)


def _question(session: Session, actor: Actor, sitting_id: UUID, name: str) -> None:
    dispute.question_a_question(
        session, actor=actor, dispute_id=uuid4(), sitting_id=sitting_id, question_id=name,
        reason=REASON, now=NOW,
    )  # fmt: skip
    session.flush()


def _decide(
    session: Session, actor: Actor, course: Course, *, voided: bool = True, wrote_it: bool = False
) -> int:
    row = disputes(session, actor.shop_id)[0]
    changed = dispute.decide_dispute(
        session, actor=actor, dispute_id=row.id, voided=voided, decision="so",
        wrote_it=wrote_it, course=course, now=NOW,
    )  # fmt: skip
    session.flush()
    return changed


def _record(session: Session, by: Actor, person_id: UUID, experience_id: UUID) -> None:
    record_experience(
        session, actor=by, experience_id=experience_id, person_id=person_id,
        modules=["safety"], statement="four years of machine work", now=NOW,
    )  # fmt: skip
    session.flush()
