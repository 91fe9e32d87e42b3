"""What every test may ask for: a cast, a clock, a seeded chance, a database of either kind."""

from __future__ import annotations

import os
from collections.abc import Iterator
from datetime import datetime
from pathlib import Path
from random import Random

import pytest
from flask import has_app_context
from hypothesis import settings

from academy.domain.curriculum.course import Course
from academy.store.database import Database, open_database
from academy.store.schema import upgrade
from tests.support.cast import Cast, settle
from tests.support.clock import NOW
from tests.support.course import a_course
from tests.support.databases import copy_sqlite, empty, lay_sqlite, postgresql_schema
from tests.support.skips import NOTHING_MAY_BE_SKIPPED

# No deadline: two workers share two cores.  Where CI is set every run draws the same examples.
settings.register_profile(
    "academy", deadline=None, max_examples=60, derandomize=NOTHING_MAY_BE_SKIPPED
)
settings.load_profile("academy")

# A test that starts the program dozens of times must not compile every package each time.
os.environ.pop("PYTHONDONTWRITEBYTECODE", None)


@pytest.fixture(autouse=True)
def _no_application_context() -> Iterator[None]:
    """Fail a test that leaves an application context behind, or starts inside one.

    Flask reuses an outer context and the signed-in person on it, so a guarded
    page would answer a second, anonymous client.
    """
    assert not has_app_context(), "an application context is pushed before the test"
    yield
    assert not has_app_context(), "the test left an application context pushed"


@pytest.fixture
def now() -> datetime:
    """Return the moment at which tests happen."""
    return NOW


@pytest.fixture
def chance() -> Random:
    """Return a generator that gives the same numbers every time."""
    return Random(20260302)


@pytest.fixture
def course() -> Course:
    """Return the small invented course."""
    return a_course()


@pytest.fixture(scope="session")
def laid_sqlite(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Lay the present schema once; tests copy the file."""
    return lay_sqlite(tmp_path_factory.mktemp("laid") / "laid.sqlite3")


@pytest.fixture(scope="session")
def laid_postgresql(worker_id: str) -> Iterator[str]:
    """Lay the present schema once, in a schema of this worker's own."""
    with postgresql_schema(f"academy_{worker_id}_{os.getpid()}") as url:
        database = open_database(url)
        upgrade(database)
        database.close()
        yield url


@pytest.fixture
def sqlite_url(laid_sqlite: Path, tmp_path: Path) -> str:
    """Return the URL of an empty SQLite file with the present schema."""
    return copy_sqlite(laid_sqlite, tmp_path)


@pytest.fixture
def postgresql_url(laid_postgresql: str) -> Iterator[str]:
    """Return the URL of an empty PostgreSQL schema; what a test leaves is taken out."""
    yield laid_postgresql
    empty(laid_postgresql)


@pytest.fixture(params=["sqlite", "postgresql"])
def database_url(request: pytest.FixtureRequest) -> str:
    """Return the URL of an empty database of each kind."""
    url: str = request.getfixturevalue(f"{request.param}_url")
    return url


@pytest.fixture
def database(database_url: str) -> Iterator[Database]:
    """Open an empty database of each kind."""
    opened = open_database(database_url)
    yield opened
    opened.close()


@pytest.fixture
def sqlite(sqlite_url: str) -> Iterator[Database]:
    """Open an empty SQLite database."""
    opened = open_database(sqlite_url)
    yield opened
    opened.close()


@pytest.fixture
def cast(database: Database) -> Cast:
    """Let the cast settle in the database."""
    with database.writing() as session:
        return settle(session)


@pytest.fixture
def cast_sqlite(sqlite: Database) -> Cast:
    """Let the cast settle in an SQLite database, for tables of many cases."""
    with sqlite.writing() as session:
        return settle(session)
