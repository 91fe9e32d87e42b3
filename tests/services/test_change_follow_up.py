"""At the next practical the supervisor says whether the one thing to change shows; on both databases."""

from __future__ import annotations

from uuid import UUID, uuid4

import pytest
from sqlalchemy.orm import Session

from academy.domain.practical.talks import ChangeSeen, NotALaterPractical
from academy.services.actor import NotAllowed, NotFound
from academy.services.change_follow_up import (
    NewLook,
    changes_of,
    say_whether_it_shows,
    to_look_for,
)
from academy.store.database import Database
from tests.support.cast import Cast
from tests.support.clock import NOW, later
from tests.support.course import a_course
from tests.support.journey import PanelSession, a_signed_practical
from tests.support.panel_work import CHANGE_NEXT

COURSE = a_course()


def an_open_practical(session: Session, cast: Cast, day: int) -> UUID:
    return PanelSession(session, cast.shop, COURSE).open(later(days=day))


def say(
    session: Session, cast: Cast, asked_in: UUID, seen_in: UUID, seen: ChangeSeen, day: int
) -> None:
    look = NewLook(uuid4(), asked_in, seen_in, seen)
    for _ in range(2):
        say_whether_it_shows(session, actor=cast.shop.supervisor, new=look, now=later(days=day))
        session.flush()


def test_what_was_to_change_is_looked_for_until_it_shows(database: Database, cast: Cast) -> None:
    shop = cast.shop
    with database.writing() as session:
        first = a_signed_practical(session, shop, COURSE, NOW).id
        second, third = (an_open_practical(session, cast, day) for day in (1, 2))
        (asked,) = to_look_for(session, shop.shop_id, second)
        assert asked.asked.change == CHANGE_NEXT
        say(session, cast, first, second, ChangeSeen.NOT_YET, 1)
        assert len(to_look_for(session, shop.shop_id, third)) == 1
        say(session, cast, first, third, ChangeSeen.SHOWS, 2)
        (shown,) = to_look_for(session, shop.shop_id, third)
        assert not shown.still_open
        assert to_look_for(session, shop.shop_id, second) == ()
        (state,) = changes_of(session, shop.shop_id, shop.trainee.person_id)
        assert state.last is not None
        assert state.last.seen_in == third


def test_nothing_is_looked_for_in_its_own_practical_or_before(
    database: Database, cast: Cast
) -> None:
    with database.writing() as session:
        earlier = an_open_practical(session, cast, -1)
        first = a_signed_practical(session, cast.shop, COURSE, NOW).id
        for practical_id in (earlier, first):
            assert to_look_for(session, cast.shop.shop_id, practical_id) == ()
            with pytest.raises(NotALaterPractical):
                say(session, cast, first, practical_id, ChangeSeen.SHOWS, 3)


def test_only_the_supervisor_at_the_panel_says_it(database: Database, cast: Cast) -> None:
    with database.writing() as session:
        first = a_signed_practical(session, cast.shop, COURSE, NOW).id
        second = an_open_practical(session, cast, 1)
        look = NewLook(uuid4(), first, second, ChangeSeen.SHOWS)
        for actor, refused in (
            (cast.shop.second_supervisor, NotAllowed),
            (cast.shop.trainee, NotAllowed),
            (cast.strangers.supervisor, NotFound),
        ):
            with pytest.raises(refused):
                say_whether_it_shows(session, actor=actor, new=look, now=NOW)
