"""The demonstration loads through the same services as a real shop."""

from __future__ import annotations

from academy.domain.certification import Register, status
from academy.domain.curriculum.course import Course
from academy.domain.curriculum.kinds import Supervision
from academy.domain.people import Role
from academy.keys.passwords import verify_password
from academy.services import people
from academy.services.actor import Actor
from academy.services.board import board
from academy.services.demo import EXPERIENCED, HALF_WAY, load_demo
from academy.services.demo_accounts import ACCOUNTS
from academy.services.journal import check_journal
from academy.services.practical_record import unchanged
from academy.store.database import Database
from academy.store.queries.people import credentials, members
from academy.store.queries.practicals import practicals, stored_practical
from academy.store.tables.people import Shop
from tests.support.clock import NOW
from tests.support.evidence import evidence_on


def test_it_loads_is_whole_and_shows_somebody_who_works_alone(
    database: Database, course: Course
) -> None:
    with database.writing() as session:
        shop_id = load_demo(session, course=course, now=NOW)
    with database.reading() as session:
        shop = session.get_one(Shop, shop_id)
        assert shop.demo
        assert "invented" in shop.name
        assert check_journal(session, shop_id).whole
        listed = practicals(session, shop_id)
        assert listed
        for row in listed:
            stored = stored_practical(session, shop_id, row.id)
            assert stored is not None
            assert stored.record is not None
            assert unchanged(stored.record)
            assert row.opened_at < NOW
        owner = next(m for m in members(session, shop_id) if Role.OWNER in m.roles)
        actor = Actor(owner.person_id, shop_id, owner.name, frozenset(owner.roles))
        levels = {}
        for line in board(session, actor=actor, course=course, now=NOW).lines:
            evidence = evidence_on(session, shop_id, line.person.person_id, NOW.date())
            assert line.standings == (status(course.schemes[0], evidence, Register(), NOW.date()),)
            levels[line.person.name] = line.standings[0].level
    assert levels[EXPERIENCED.name] is Supervision.ALONE
    assert levels[HALF_WAY.name] is Supervision.BESIDE
    assert Supervision.NOT_YET in levels.values()


def test_only_the_printed_accounts_have_a_password(database: Database, course: Course) -> None:
    with database.writing() as session:
        load_demo(session, course=course, now=NOW)
    with database.reading() as session:
        for account in ACCOUNTS:
            known = credentials(session, people.sign_in_key(account.sign_in_name))
            assert known is not None
            assert known.name == account.name
            assert verify_password(known.password_hash, account.password)
        for account in (EXPERIENCED, HALF_WAY):
            known = credentials(session, people.sign_in_key(account.sign_in_name))
            assert known is not None
            assert known.password_hash is None
