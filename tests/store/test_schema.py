"""Migrations lead to exactly the tables the program knows, on both databases."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from alembic.autogenerate import compare_metadata
from alembic.migration import MigrationContext
from sqlalchemy import CheckConstraint, inspect, text
from sqlalchemy.orm import Session

from academy.store.database import Database
from academy.store.schema import MIGRATIONS, upgrade
from academy.store.tables import Base
from tests.support.databases import revisions


@pytest.fixture
def session(database: Database) -> Iterator[Session]:
    with database.reading() as opened:
        yield opened


def test_the_migrations_leave_nothing_to_be_migrated(session: Session) -> None:
    context = MigrationContext.configure(session.connection(), opts={"compare_type": True})
    assert compare_metadata(context, Base.metadata) == []


def test_every_check_of_the_tables_stands_in_the_database(session: Session) -> None:
    """Alembic does not compare checks, so they are compared here."""
    found, known = inspect(session.connection()), {}
    for table in Base.metadata.sorted_tables:
        known[table.name] = {
            str(check.name) for check in table.constraints if isinstance(check, CheckConstraint)
        }
    assert any(known.values())
    assert known == {
        name: {check["name"] for check in found.get_check_constraints(name)} for name in known
    }


def test_the_database_is_at_the_newest_revision(session: Session) -> None:
    assert session.scalar(text("SELECT version_num FROM alembic_version")) == revisions()[-1]


def test_migrating_twice_changes_nothing(database: Database) -> None:
    upgrade(database)
    with database.reading() as session:
        context = MigrationContext.configure(session.connection())
        assert compare_metadata(context, Base.metadata) == []


def test_every_migration_says_what_it_does() -> None:
    for path in sorted((Path(MIGRATIONS) / "versions").glob("0*.py")):
        assert path.read_text("utf-8").startswith('"""'), path.name
