"""Five questions: who opens them for whom, what they hold, and that nothing but scored answers moves them."""

from __future__ import annotations

from datetime import timedelta
from typing import Any
from uuid import UUID, uuid4

import pytest
from sqlalchemy.orm import Session

from academy.domain.curriculum.course import Course
from academy.services import practice, refreshers, sitting
from academy.services.actor import Actor, NotAllowed, NotFound
from academy.store.database import Database
from academy.store.queries.refreshers import handed_out, newest_of_each, scored_answers
from academy.store.tables.study import Sitting
from tests.support.cast import Cast
from tests.support.clock import NOW, later
from tests.support.course import a_blueprint, a_course, a_module, a_question, a_scheme, an_objective
from tests.support.journey import form_of, give, sit

NAMES = tuple(f"o{n}" for n in range(8))


@pytest.fixture
def wide() -> Course:
    """Return a course with eight objectives of three questions each; two of them give a third away."""
    module = a_module(
        objectives=tuple(an_objective(name) for name in NAMES),
        questions=tuple(
            a_question(
                f"{name}-{n}",
                objective_id=name,
                apart_from=("o1-0", "o1-1", "o1-2") if name == "o0" else (),
            )
            for name in NAMES
            for n in range(3)
        ),
        blueprint=a_blueprint(dict.fromkeys(NAMES[1:], 1)),
    )
    return a_course([module], schemes=(a_scheme(term_months=1),))


def hand_out(
    session: Session, by: Actor, to: UUID, course: Course, at: Any = NOW, made: UUID | None = None
) -> UUID:
    """Open five questions for somebody."""
    opened = refreshers.hand_out_refresher(
        session, actor=by, person_id=to, sitting_id=made or uuid4(), course=course, now=at
    )
    session.flush()
    return opened


@pytest.mark.parametrize(
    ("who", "refusal"),
    [
        ("owner", NotAllowed),
        ("supervisor", None),
        ("second_supervisor", None),
        ("trainee", NotAllowed),
    ],
)
def test_a_supervisor_hands_them_out_before_a_talk(
    sqlite: Database, cast_sqlite: Cast, wide: Course, who: str, refusal: Any
) -> None:
    shop = cast_sqlite.shop
    with sqlite.writing() as session:
        sit(session, shop.trainee, wide)
        actor, person = getattr(shop, who), shop.trainee.person_id
        if refusal is not None:
            with pytest.raises(refusal):
                hand_out(session, actor, person, wide)
            return
        made = hand_out(session, actor, person, wide)
        assert handed_out(session, shop.shop_id, person)
        assert len(form_of(session, shop.shop_id, made).questions) == 5
        assert hand_out(session, actor, person, wide) == made, "they are handed out once"
        own = refreshers.open_refresher(
            session, actor=shop.trainee, sitting_id=uuid4(), course=wide, now=NOW
        )
        assert own == made, "the trainee goes on with those"


def test_never_for_a_stranger_nor_before_something_is_passed(
    database: Database, cast: Cast, wide: Course
) -> None:
    shop, strangers = cast.shop, cast.strangers
    with database.writing() as session:
        sit(session, strangers.trainee, wide)
        with pytest.raises(NotFound):
            hand_out(session, shop.supervisor, strangers.trainee.person_id, wide)
        with pytest.raises(refreshers.NothingToRefresh):
            hand_out(session, shop.supervisor, shop.trainee.person_id, wide)


def test_the_talk_begins_with_what_was_missed_and_the_next_five_are_others(
    database: Database, cast: Cast, wide: Course
) -> None:
    shop, person = cast.shop, cast.shop.trainee.person_id
    with database.writing() as session:
        sit(session, shop.trainee, wide)
        made = hand_out(session, shop.supervisor, person, wide, later(days=3))
        first = form_of(session, shop.shop_id, made)
        for item in first.questions[:4]:
            give(
                session, shop.trainee, made, item.question.id, {"chosen": [1]},
                later(days=3, hours=9),
            )  # fmt: skip
        sitting.submit_sitting(
            session, actor=shop.trainee, sitting_id=made, course=wide, now=later(days=3, hours=10)
        )
        session.flush()
        last = newest_of_each(session, shop.shop_id)[person]
        assert last.result is not None
        assert [row[3] - row[2] for row in last.result["objectives"]] == [0, 0, 0, 0, 1]
        again = hand_out(session, shop.supervisor, person, wide, later(days=4))
        second = form_of(session, shop.shop_id, again)
        assert not set(second.question_ids) & set(first.question_ids)


def test_questions_that_give_each_other_away_are_not_among_the_five(
    database: Database, cast: Cast, wide: Course
) -> None:
    """Every question of the first objective gives the second away; one of the two is passed over."""
    with database.writing() as session:
        sit(session, cast.shop.trainee, wide)
        for day in range(1, 6):
            made = refreshers.open_refresher(
                session, actor=cast.shop.trainee, sitting_id=uuid4(), course=wide,
                now=later(days=day),
            )  # fmt: skip
            form = form_of(session, cast.shop.shop_id, made)
            asked = {item.question.objective_id for item in form.questions}
            assert len(asked) == len(form.questions) == 5
            assert not {"o0", "o1"} <= asked
            for item in form.questions:
                give(session, cast.shop.trainee, made, item.question.id, {"chosen": [1]})
            sitting.submit_sitting(
                session, actor=cast.shop.trainee, sitting_id=made, course=wide, now=later(days=day)
            )
            session.flush()


def test_no_gap_is_longer_than_the_certificates_term(
    database: Database, cast: Cast, wide: Course
) -> None:
    trainee = cast.shop.trainee
    with database.writing() as session:
        sit(session, trainee, wide)
        for day in range(0, 200, 20):
            made = refreshers.open_refresher(
                session, actor=trainee, sitting_id=uuid4(), course=wide, now=later(days=day)
            )
            for item in form_of(session, trainee.shop_id, made).questions:
                give(session, trainee, made, item.question.id, {"chosen": [1]}, later(days=day))
            sitting.submit_sitting(
                session, actor=trainee, sitting_id=made, course=wide, now=later(days=day)
            )
            session.flush()
        known = refreshers.refreshers_of(session, trainee.shop_id, trainee.person_id, wide)
        assert max(one.gap_days for one in known) == 30


def test_the_wait_before_the_first_answer_is_not_taken_for_thinking(
    database: Database, cast: Cast, wide: Course
) -> None:
    """Handed out in the morning and begun at night: the first answer has no time, the next has."""
    trainee = cast.shop.trainee
    with database.writing() as session:
        sit(session, trainee, wide)
        made = hand_out(session, cast.shop.supervisor, trainee.person_id, wide, later(days=1))
        begun = later(days=1) + timedelta(hours=10)
        names = form_of(session, trainee.shop_id, made).question_ids
        for n, name in enumerate(names):
            give(session, trainee, made, name, {"chosen": [1]}, begun + timedelta(seconds=30 * n))
        sitting.submit_sitting(
            session, actor=trainee, sitting_id=made, course=wide, now=begun + timedelta(hours=1)
        )
        session.flush()
        stored = session.get_one(Sitting, (trainee.shop_id, made))
        assert stored.submitted_at is not None
        rows = scored_answers(session, trainee.shop_id, trainee.person_id)
        took = [row.seconds for row in rows if row.at >= begun]
        assert sorted(took, key=lambda seconds: seconds or 0.0) == [None, 30.0, 30.0, 30.0, 30.0]


def test_practice_moves_no_gap(database: Database, cast: Cast, wide: Course) -> None:
    trainee = cast.shop.trainee
    with database.writing() as session:
        sit(session, trainee, wide)
        before = refreshers.refreshers_of(session, trainee.shop_id, trainee.person_id, wide)
        made = practice.open_practice(
            session, actor=trainee, sitting_id=uuid4(), module=wide.modules[0], now=later(days=1)
        )
        for name in form_of(session, trainee.shop_id, made).question_ids:
            give(session, trainee, made, name, {"chosen": [2]}, later(days=1))
        sitting.submit_sitting(
            session, actor=trainee, sitting_id=made, course=wide, now=later(days=1)
        )
        session.flush()
        after = refreshers.refreshers_of(session, trainee.shop_id, trainee.person_id, wide)
        assert after == before
