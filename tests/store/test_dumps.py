"""Data as an older version wrote it is carried to the newest schema and read again."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal
from pathlib import Path

import pytest
from sqlalchemy import select, text
from sqlalchemy.orm import Session

from academy.domain.curriculum.kinds import Supervision
from academy.keys.passwords import verify_password
from academy.services.evidence import progress_in
from academy.services.journal import check_journal
from academy.services.practical_record import text_unchanged, unchanged
from academy.services.standing import standings_today
from academy.store.database import Database, open_database
from academy.store.queries.evidence import standing_rows
from academy.store.queries.people import credentials, members
from academy.store.queries.practicals import practicals, stored_practical
from academy.store.queries.study import lessons_read, responses, sittings_of
from academy.store.queries.workshop import gauges, sections
from academy.store.schema import upgrade
from academy.store.tables.people import Invitation, Shop
from tests.store.make_dump import DUMPS
from tests.support.cast import PASSWORD, SHOP_NAME
from tests.support.clock import NOW, later
from tests.support.course import a_course
from tests.support.databases import postgresql_schema, revisions, sqlite_url
from tests.support.panel_work import WENT_WELL


def test_every_migration_leaves_a_dump_of_its_schema() -> None:
    assert sorted(path.stem for path in DUMPS.glob("*.sql")) == sorted(revisions())


@pytest.fixture(params=["sqlite", "postgresql"])
def bare_url(request: pytest.FixtureRequest, tmp_path: Path, worker_id: str) -> Iterator[str]:
    """Return the URL of a database without any tables."""
    if request.param == "sqlite":
        yield sqlite_url(tmp_path / "bare.sqlite3")
        return
    with postgresql_schema(f"academy_bare_{worker_id}") as url:
        yield url


@pytest.fixture(params=revisions())
def carried(request: pytest.FixtureRequest, bare_url: str) -> Iterator[Database]:
    """Load the dump of a revision into its own schema and migrate to the newest."""
    database = open_database(bare_url)
    try:
        upgrade(database, request.param)
        with database.writing() as session:
            load(session, DUMPS / f"{request.param}.sql")
        upgrade(database)
        yield database
    finally:
        database.close()


def load(session: Session, dump: Path) -> None:
    """Run a dump, one statement a line; its times are UTC and say no zone."""
    if session.get_bind().dialect.name == "postgresql":
        session.execute(text("SET LOCAL TIME ZONE 'UTC'"))
    connection = session.connection()
    for line in dump.read_text("utf-8").splitlines():
        connection.exec_driver_sql(line)


def test_what_was_kept_then_is_read_now(carried: Database) -> None:
    with carried.reading() as session:
        shop_id = session.scalars(select(Shop.id).where(Shop.name == SHOP_NAME)).one()
        known = credentials(session, "mira")
        assert known is not None
        assert verify_password(known.password_hash, PASSWORD)
        mira = known.person_id
        assert [m.name for m in members(session, shop_id)] == [
            "Greta Lindqvist", "Jonas Pell", "Mira Holt", "Ruth Ansell",
        ]  # fmt: skip
        assert session.scalars(select(Invitation.roles)).one() == ["trainee"]
        assert [g.repeatability_um for g in gauges(session, shop_id)] == [Decimal("0.3")]
        assert [s.name for s in sections(session, shop_id)] == ["Bonnet 3, 1", "Bonnet 3, 2"]
        assert list(lessons_read(session, shop_id, mira)) == ["safety/before-you-start"]
        (sat,) = sittings_of(session, shop_id, mira)
        assert (sat.submitted_at, sat.passed) == (NOW, True)
        assert len(responses(session, shop_id, sat.id)) == 4
        assert progress_in(session, shop_id, mira, "safety").passed_at == NOW
        today = standings_today(
            session, shop_id=shop_id, person_id=mira, course=a_course(),
            rows=standing_rows(session, shop_id, mira), now=later(days=6),
        )  # fmt: skip
        assert today["polishing"].level is Supervision.ON_SITE
        assert check_journal(session, shop_id).whole


def test_a_record_signed_then_still_has_its_digest_and_opens_its_texts(carried: Database) -> None:
    with carried.reading() as session:
        shop_id = session.scalars(select(Shop.id).where(Shop.name == SHOP_NAME)).one()
        still_open, signed = practicals(session, shop_id)
        assert (still_open.closed_at, signed.outcome) == (None, "competent")
        stored = stored_practical(session, shop_id, signed.id)
        assert stored is not None
        assert stored.record is not None
        assert unchanged(stored.record)
        talk = len(stored.record.record["steps"])
        assert text_unchanged(stored.record, talk, "went_well", WENT_WELL)
        assert [s.signed_at for s in stored.signatures] == [
            later(days=1, hours=3),
            later(days=1, hours=4),
        ]
        photographed = stored_practical(session, shop_id, still_open.id)
        assert photographed is not None
        assert [p.caption for p in photographed.photographs] == ["before the first pass"]
