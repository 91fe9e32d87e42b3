"""Reading transactions see one moment; a unit of work is whole or nothing."""

from __future__ import annotations

import sqlite3
from pathlib import Path
from uuid import uuid4

import pytest
from sqlalchemy import make_url, select, text
from sqlalchemy.orm import Session

from academy.store.database import Database, open_database
from academy.store.tables.people import Shop
from tests.support.clock import NOW
from tests.support.databases import ROLE


def add_shop(session: Session, name: str) -> None:
    """Add a shop of that name."""
    session.add(Shop(id=uuid4(), name=name, created_at=NOW))
    session.flush()


def shop_names(database: Database) -> list[str]:
    """Return the names of all shops."""
    with database.reading() as session:
        return sorted(session.scalars(select(Shop.name)))


def test_a_unit_of_work_is_kept_once_it_ends(database: Database) -> None:
    with database.writing() as session:
        add_shop(session, "one")
        add_shop(session, "two")
        assert shop_names(database) == []
    assert shop_names(database) == ["one", "two"]


def test_a_unit_of_work_that_fails_leaves_nothing_and_the_next_one_goes_on(
    database: Database,
) -> None:
    def interrupted() -> None:
        with database.writing() as session:
            add_shop(session, "never")
            raise ConnectionError

    for _ in range(3):
        with pytest.raises(ConnectionError):
            interrupted()
    with database.writing() as session:
        add_shop(session, "after")
    assert shop_names(database) == ["after"]


def test_what_is_written_while_reading_is_not_kept(database: Database) -> None:
    with database.reading() as session:
        add_shop(session, "never")
    assert shop_names(database) == []


def test_a_reading_transaction_sees_one_moment(database: Database) -> None:
    """A page whose parts come from two moments would contradict itself."""
    with database.reading() as session:
        assert session.scalars(select(Shop.name)).all() == []
        with database.writing() as writer:
            add_shop(writer, "meanwhile")
        assert session.scalars(select(Shop.name)).all() == []
    assert shop_names(database) == ["meanwhile"]


def test_a_reader_is_closed_by_whoever_asked_for_it(database: Database) -> None:
    session = database.reader()
    assert session.scalars(select(Shop.name)).all() == []
    session.close()
    with database.writing() as writer:
        add_shop(writer, "one")
    assert shop_names(database) == ["one"]


@pytest.mark.parametrize(
    ("pragma", "value"),
    [("journal_mode", "wal"), ("synchronous", 2), ("foreign_keys", 1), ("busy_timeout", 15000)],
)
def test_every_connection_to_sqlite_is_set_to_keep_what_it_acknowledged(
    sqlite: Database, pragma: str, value: object
) -> None:
    with sqlite.reading() as session:
        assert session.scalar(text(f"PRAGMA {pragma}")) == value
    with sqlite.writing() as session:
        assert session.scalar(text(f"PRAGMA {pragma}")) == value


def _is_locked(database: Database) -> bool:
    """Return whether another connection is kept from writing this very moment."""
    path = make_url(str(database.engine.url)).database or ""
    with sqlite3.connect(path, timeout=0, isolation_level=None) as other:
        try:
            other.execute("BEGIN IMMEDIATE")
        except sqlite3.OperationalError:
            return True
        other.execute("ROLLBACK")
        return False


def test_a_writing_transaction_takes_the_write_lock_before_its_first_statement(
    sqlite: Database,
) -> None:
    with sqlite.writing() as session:
        session.connection()
        assert _is_locked(sqlite)
    assert not _is_locked(sqlite)


def test_a_reading_transaction_keeps_nobody_from_writing(sqlite: Database) -> None:
    with sqlite.reading() as session:
        assert session.scalars(select(Shop.name)).all() == []
        assert not _is_locked(sqlite)


@pytest.mark.parametrize("url", ["sqlite://", "sqlite:///:memory:"])
def test_an_sqlite_database_has_to_be_a_file(url: str) -> None:
    with pytest.raises(ValueError, match="has to be a file"):
        open_database(url)


def test_the_lock_lies_beside_the_database(sqlite: Database) -> None:
    path = make_url(str(sqlite.engine.url)).database or ""
    with sqlite.writing():
        assert Path(f"{path}.lock").exists()


def test_these_tests_reach_postgresql_as_somebody_the_rules_apply_to(postgresql_url: str) -> None:
    database = open_database(postgresql_url)
    with database.reading() as session:
        row = session.execute(
            text(
                "SELECT rolname, rolsuper, rolbypassrls FROM pg_roles WHERE rolname = current_user"
            )
        ).one()
    database.close()
    assert tuple(row) == (ROLE, False, False)
