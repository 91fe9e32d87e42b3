"""A first month, in plain calls: from the invitation slip to working alone."""

from __future__ import annotations

from datetime import timedelta
from uuid import uuid4

from academy.domain.curriculum.course import Course
from academy.domain.curriculum.kinds import Supervision
from academy.domain.people import Role
from academy.keys.links import token_digest
from academy.services import board, people, study
from academy.services.journal import check_journal
from academy.store.database import Database
from academy.store.queries.people import signed_in
from tests.support.cast import Cast, ShopPeople, password_hash
from tests.support.clock import later
from tests.support.journey import a_signed_practical, sit


def test_a_newcomer_is_invited_studies_sits_practises_and_works_alone(
    database: Database, cast: Cast, course: Course
) -> None:
    shop = cast.shop
    with database.writing() as session:
        link = people.invite_person(
            session, actor=shop.owner, name="Edda Voss", roles=[Role.TRAINEE], now=later()
        )
    with database.writing() as session:
        edda = people.accept_invitation(
            session, token=link.token, name="Edda Voss", sign_in_name="edda",
            password_hash=password_hash(), now=later(hours=1),
        )  # fmt: skip
        token = people.start_session(
            session, person_id=edda.person_id, shop_id=edda.shop_id, now=later(hours=1)
        )
    with database.reading() as session:
        here = signed_in(session, token_digest(token))
        assert here is not None
        assert (here.name, here.roles) == ("Edda Voss", frozenset([Role.TRAINEE]))
        first = study.next_step(session, actor=edda, course=course)
        assert (first.kind, first.lesson) == ("lesson", course.modules[0].lessons[0])
    with database.writing() as session:
        for lesson in course.modules[0].lessons:
            study.finish_lesson(
                session, actor=edda, reading_id=uuid4(), lesson=lesson, now=later(hours=2)
            )
    with database.writing() as session:
        assert study.next_step(session, actor=edda, course=course).kind == "quiz"
        assert sit(session, edda, course, later(hours=3)).passed
    with database.reading() as session:
        assert study.next_step(session, actor=edda, course=course).kind == "practical"
    with_edda = ShopPeople(
        shop.shop_id, shop.owner, shop.supervisor, shop.second_supervisor, edda, shop.bench
    )
    levels = []
    for day in range(1, 4):
        with database.writing() as session:
            a_signed_practical(session, with_edda, course, later(days=day))
        with database.reading() as session:
            seen = board.board(session, actor=shop.owner, course=course, now=later(days=day))
            (line,) = [line for line in seen.lines if line.person.person_id == edda.person_id]
            levels.append(line.standings[0].level)
    assert levels == [Supervision.ON_SITE, Supervision.ON_SITE, Supervision.ALONE]
    assert line.standings[0].valid_until == (later(days=3) + timedelta(days=365)).date()
    with database.reading() as session:
        assert check_journal(session, shop.shop_id).whole
        assert check_journal(session, cast.strangers.shop_id).whole
