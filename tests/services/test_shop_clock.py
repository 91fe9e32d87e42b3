"""A day is one of the shop's days: due dates, terms and the board turn at its midnight, not at UTC's."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta

import pytest

from academy.domain.certification import Status
from academy.domain.curriculum.course import Course
from academy.domain.workshop.policy import ShopPolicy
from academy.services import shop_settings
from academy.services.shop_clock import today_in_shop
from academy.services.standing import standings_today
from academy.store.database import Database
from academy.store.queries.evidence import standing_rows
from tests.support.cast import Cast
from tests.support.clock import NOW
from tests.support.evidence import evidence_on
from tests.support.journey import a_signed_practical, sit

# 2 March 2026, 11:30 UTC is 3 March, 00:30 in Auckland and 2 March, 03:30 in Los Angeles
LATE_MORNING = datetime(2026, 3, 2, 11, 30, tzinfo=UTC)


def live_in(database: Database, cast: Cast, zone: str) -> None:
    """Let the owner set the shop's zone."""
    with database.writing() as session:
        shop_settings.change_settings(
            session, actor=cast.shop.owner, settings=ShopPolicy(zone), now=NOW
        )


@pytest.mark.parametrize(
    ("zone", "day"),
    [
        ("UTC", date(2026, 3, 2)),
        ("Pacific/Auckland", date(2026, 3, 3)),
        ("America/Los_Angeles", date(2026, 3, 2)),
    ],
)
def test_what_is_done_is_dated_by_the_shops_calendar(
    database: Database, cast: Cast, course: Course, zone: str, day: date
) -> None:
    live_in(database, cast, zone)
    shop = cast.shop
    with database.writing() as session:
        sit(session, shop.trainee, course, LATE_MORNING)
        a_signed_practical(session, shop, course, LATE_MORNING - timedelta(minutes=40))
        assert today_in_shop(session, shop.shop_id, LATE_MORNING) == day
        found = evidence_on(session, shop.shop_id, shop.trainee.person_id, day)
        assert found.modules_passed == {"safety": day}
        (counted,) = found.practicals
        assert counted.assessed_at == LATE_MORNING
        assert counted.assessed_at.date() == day


def test_a_level_ends_at_the_shops_midnight(database: Database, cast: Cast, course: Course) -> None:
    live_in(database, cast, "America/Los_Angeles")
    shop, person_id = cast.shop, cast.shop.trainee.person_id
    with database.writing() as session:
        sit(session, shop.trainee, course)
        a_signed_practical(session, shop, course)
    with database.reading() as session:
        rows = standing_rows(session, shop.shop_id, person_id)

        def level(now: datetime) -> Status:
            found = standings_today(
                session, shop_id=shop.shop_id, person_id=person_id, course=course, rows=rows, now=now
            )  # fmt: skip
            return found[course.schemes[0].id]

        last_day = rows[0].valid_until
        assert last_day is not None
        # midnight in Los Angeles is 08:00 UTC in winter and 07:00 in summer
        still = datetime.combine(last_day, datetime.min.time(), UTC) + timedelta(days=1, hours=6)
        assert level(still).valid_until == last_day
        assert level(still + timedelta(hours=3)).level.rank < level(still).level.rank
