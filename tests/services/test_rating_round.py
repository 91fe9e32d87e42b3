"""A round of ratings: alone, with the spread in sight, taken over; forms keep what they were drawn with."""

from __future__ import annotations

from collections.abc import Mapping
from uuid import UUID, uuid4

import pytest
from sqlalchemy.orm import Session

from academy.domain.assessment.frozen import drawn_form_from_frozen
from academy.domain.assessment.mending_notes import Mending
from academy.domain.assessment.re_rating import CutRating, RoundStage
from academy.domain.curriculum.course import Course
from academy.services import rating_round
from academy.services.actor import Actor, NotAllowed, NotFound
from academy.services.journal import check_journal
from academy.services.mending import note_mending, notes_in_force
from academy.services.quiz import open_quiz
from academy.services.ratings import ratings_in_force
from academy.store.database import Database
from academy.store.queries import rating_rounds as queries
from academy.store.tables.study import Sitting
from tests.support.cast import Cast, ShopPeople
from tests.support.clock import NOW, later
from tests.support.journey import sit


def opened(session: Session, shop: ShopPeople, course: Course, *raters: Actor) -> UUID:
    """Open a round on all questions of the first module."""
    module = course.modules[0]
    new = rating_round.NewRound(
        uuid4(), module.id, module.questions, [rater.person_id for rater in raters]
    )
    made = rating_round.open_round(session, actor=shop.owner, new=new, now=NOW)
    session.flush()
    return made


def rate(
    session: Session, rater: Actor, round_id: UUID, course: Course, percent: int
) -> RoundStage:
    """Rate every question of the first module alike."""
    ratings = {question.digest: percent for question in course.modules[0].questions}
    return given(session, rater, round_id, ratings)


def given(session: Session, rater: Actor, round_id: UUID, ratings: Mapping[str, int]) -> RoundStage:
    stage = rating_round.rate_questions(
        session, actor=rater, round_id=round_id, ratings=ratings, now=NOW
    )
    session.flush()
    return stage


def form_cut(session: Session, actor: Actor, course: Course) -> tuple[int, CutRating | None]:
    """Draw a quiz and return its cut in points, and how it came about."""
    made = uuid4()
    open_quiz(session, actor=actor, sitting_id=made, module=course.modules[0], now=NOW)
    session.flush()
    drawn = drawn_form_from_frozen(session.get_one(Sitting, (actor.shop_id, made)).form)
    return drawn.form.cut_points, drawn.cut_rating


def test_two_rate_alone_then_see_the_spread_then_change_then_it_counts(
    database: Database, cast: Cast, course: Course
) -> None:
    shop = cast.shop
    with database.writing() as session:
        made = opened(session, shop, course, shop.supervisor, shop.second_supervisor)
        assert rate(session, shop.supervisor, made, course, 50) is RoundStage.ALONE
        with pytest.raises(rating_round.SpreadNotShown):
            rating_round.take_over(session, actor=shop.owner, round_id=made, now=NOW)
        assert rate(session, shop.second_supervisor, made, course, 90) is RoundStage.TALK
        assert rate(session, shop.second_supervisor, made, course, 60) is RoundStage.TALK
        assert not ratings_in_force(session, shop.shop_id)
        rating_round.take_over(session, actor=shop.owner, round_id=made, now=later(days=1))
        session.flush()
        assert set(ratings_in_force(session, shop.shop_id).values()) == {60}
        assert len(ratings_in_force(session, shop.shop_id)) == 8
        with pytest.raises(rating_round.AlreadyTakenOver):
            rate(session, shop.supervisor, made, course, 40)
        assert check_journal(session, shop.shop_id).whole


def test_forms_drawn_before_keep_their_pass_mark(
    database: Database, cast: Cast, course: Course
) -> None:
    """Four questions of 70; then the author's 70 with a supervisor's 50: 60, totals 80 apart."""
    shop = cast.shop
    with database.writing() as session:
        before = sit(session, shop.trainee, course, wrong=("goggles", "cord"))
        assert before.cut_points == 280
        made = opened(session, shop, course, shop.supervisor)
        rate(session, shop.supervisor, made, course, 50)
        rating_round.take_over(session, actor=shop.owner, round_id=made, now=NOW)
        session.flush()
        assert form_cut(session, shop.trainee, course) == (240, CutRating(4, 2, 40))
        stored = session.query(Sitting).filter(Sitting.submitted_at.is_not(None)).one()
        assert stored.result is not None
        assert stored.result["cut_points"] == 280
        assert drawn_form_from_frozen(stored.form).form.cut_points == 280


def test_a_round_closed_early_counts_what_was_rated(
    database: Database, cast: Cast, course: Course
) -> None:
    shop = cast.shop
    with database.writing() as session:
        made = opened(session, shop, course, shop.supervisor, shop.second_supervisor)
        first = course.modules[0].questions[0].digest
        given(session, shop.supervisor, made, {first: 30})
        rating_round.show_spread(session, actor=shop.owner, round_id=made, now=NOW)
        rating_round.take_over(session, actor=shop.owner, round_id=made, now=NOW)
        session.flush()
        assert ratings_in_force(session, shop.shop_id) == {first: 50}


def test_the_newest_round_stands_and_an_empty_one_takes_nothing_away(
    database: Database, cast: Cast, course: Course
) -> None:
    shop = cast.shop
    with database.writing() as session:
        for day, percent in enumerate((50, 30, None)):
            made = opened(session, shop, course, shop.supervisor)
            if percent is not None:
                rate(session, shop.supervisor, made, course, percent)
            rating_round.show_spread(session, actor=shop.owner, round_id=made, now=NOW)
            rating_round.take_over(session, actor=shop.owner, round_id=made, now=later(days=day))
            session.flush()
        assert set(ratings_in_force(session, shop.shop_id).values()) == {50}


def test_the_same_ratings_sent_twice_are_kept_once(
    database: Database, cast: Cast, course: Course
) -> None:
    shop = cast.shop
    with database.writing() as session:
        made = opened(session, shop, course, shop.supervisor, shop.second_supervisor)
        for _ in range(2):
            rate(session, shop.supervisor, made, course, 50)
        assert queries.last_rating_number(session, shop.shop_id, made) == 8


class TestRefusals:
    def test_who_was_not_asked_and_who_is_elsewhere_find_nothing(
        self, sqlite: Database, cast_sqlite: Cast, course: Course
    ) -> None:
        shop = cast_sqlite.shop
        with sqlite.writing() as session:
            made = opened(session, shop, course, shop.supervisor)
            for somebody in (shop.second_supervisor, cast_sqlite.strangers.supervisor):
                with pytest.raises(NotFound):
                    rate(session, somebody, made, course, 50)
            with pytest.raises(NotFound):
                rating_round.show_spread(
                    session, actor=cast_sqlite.strangers.owner, round_id=made, now=NOW
                )
            with pytest.raises(NotFound):
                given(session, shop.supervisor, made, {"f" * 64: 50})

    def test_roles(self, sqlite: Database, cast_sqlite: Cast, course: Course) -> None:
        shop = cast_sqlite.shop
        with sqlite.writing() as session:
            made = opened(session, shop, course, shop.supervisor)
            with pytest.raises(NotAllowed):
                rate(session, shop.owner, made, course, 50)
            for verb in (rating_round.show_spread, rating_round.take_over):
                with pytest.raises(NotAllowed):
                    verb(session, actor=shop.supervisor, round_id=made, now=NOW)

    @pytest.mark.parametrize("percent", [-1, 101])
    def test_a_rating_is_a_percentage(
        self, sqlite: Database, cast_sqlite: Cast, course: Course, percent: int
    ) -> None:
        with sqlite.writing() as session:
            made = opened(session, cast_sqlite.shop, course, cast_sqlite.shop.supervisor)
            with pytest.raises(rating_round.NotAPercentage):
                rate(session, cast_sqlite.shop.supervisor, made, course, percent)

    def test_a_round_needs_questions_and_supervisors(
        self, sqlite: Database, cast_sqlite: Cast, course: Course
    ) -> None:
        shop = cast_sqlite.shop
        with sqlite.writing() as session:
            with pytest.raises(rating_round.NothingToRate):
                opened(session, shop, course)
            with pytest.raises(rating_round.NotASupervisor):
                opened(session, shop, course, shop.trainee)
            with pytest.raises(rating_round.NotASupervisor):
                opened(session, shop, course, cast_sqlite.strangers.supervisor)


def test_a_note_holds_for_its_wording_and_the_newest_stands(
    database: Database, cast: Cast, course: Course
) -> None:
    question, note_id = course.modules[0].questions[0], uuid4()
    with database.writing() as session:
        for made, mending in (
            (note_id, Mending.HANDLED), (note_id, Mending.DISMISSED), (uuid4(), Mending.TO_MEND),
        ):  # fmt: skip
            note_mending(
                session, actor=cast.shop.owner, note_id=made, question=question, mending=mending,
                reason="looked at it", now=later(days=mending is Mending.TO_MEND),
            )  # fmt: skip
            session.flush()
            if mending is Mending.DISMISSED:
                note = notes_in_force(session, cast.shop.shop_id)[question.digest]
                assert note.mending is Mending.HANDLED, "the same id is kept once"
        note = notes_in_force(session, cast.shop.shop_id)[question.digest]
        assert (note.mending, note.mending.rests) == (Mending.TO_MEND, False)
        assert not notes_in_force(session, cast.strangers.shop_id)
