"""Databases for tests: a new SQLite file each, and a schema of PostgreSQL for each worker."""

from __future__ import annotations

import os
import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest
from alembic.config import Config
from alembic.script import ScriptDirectory
from sqlalchemy import Engine, NullPool, create_engine, make_url, text
from sqlalchemy.exc import DBAPIError, OperationalError

from academy.store.database import open_database
from academy.store.schema import MIGRATIONS, upgrade
from tests.support.skips import NOTHING_MAY_BE_SKIPPED

# Whoever makes the role and the schema; the tests themselves connect as ROLE.
ADMINISTRATOR = os.environ.get(
    "ACADEMY_TEST_POSTGRESQL", "postgresql+psycopg://postgres@127.0.0.1/test"
)
ROLE = "academy_test"
NO_ANSWER = "PostgreSQL does not answer; 'sudo service postgresql start' starts it"


def sqlite_url(path: Path) -> str:
    """Return the URL of an SQLite file."""
    return f"sqlite:///{path.as_posix()}"


def lay_sqlite(path: Path) -> Path:
    """Make an SQLite file with the present schema and nothing in it."""
    database = open_database(sqlite_url(path))
    upgrade(database)
    database.close()
    return path


def copy_sqlite(laid: Path, folder: Path) -> str:
    """Copy an empty database that was laid before and return the URL of the copy."""
    copy = folder / "academy.sqlite3"
    shutil.copyfile(laid, copy)
    return sqlite_url(copy)


@contextmanager
def postgresql_schema(name: str) -> Iterator[str]:
    """Make a schema of that name, give its URL for ROLE, and drop it at the end.

    ROLE is no superuser: a superuser would pass by what the database refuses.
    """
    administrator = create_engine(ADMINISTRATOR, isolation_level="AUTOCOMMIT", poolclass=NullPool)
    try:
        with administrator.connect() as connection:
            _make_role(connection.exec_driver_sql)
            connection.exec_driver_sql(f'DROP SCHEMA IF EXISTS "{name}" CASCADE')
            connection.exec_driver_sql(f'CREATE SCHEMA "{name}" AUTHORIZATION {ROLE}')
    except OperationalError as refused:
        _not_here(f"{NO_ANSWER} ({str(refused.orig).strip().splitlines()[0]})")
    options = f"-csearch_path={name} -csynchronous_commit=off"
    url = make_url(ADMINISTRATOR).set(username=ROLE).update_query_dict({"options": options})
    try:
        yield url.render_as_string(hide_password=False)
    finally:
        _drop(administrator, name)


def _drop(administrator: Engine, name: str) -> None:
    with administrator.connect() as connection:
        connection.exec_driver_sql(f'DROP SCHEMA IF EXISTS "{name}" CASCADE')


def empty(url: str) -> None:
    """Take everything out of all tables of a PostgreSQL schema."""
    engine = create_engine(url, poolclass=NullPool)
    with engine.begin() as connection:
        names = connection.scalars(
            text(
                "SELECT tablename FROM pg_tables"
                " WHERE schemaname = current_schema() AND tablename <> 'alembic_version'"
            )
        )
        connection.execute(text(f"TRUNCATE {', '.join(names)} CASCADE"))


def revisions() -> list[str]:
    """Return every revision of the schema, oldest first; they have to form one line."""
    config = Config()
    config.set_main_option("script_location", str(MIGRATIONS))
    scripts = ScriptDirectory.from_config(config)
    assert len(scripts.get_heads()) == 1
    return [script.revision for script in scripts.walk_revisions()][::-1]


def _make_role(run: object) -> None:
    assert callable(run)
    try:
        run(f"CREATE ROLE {ROLE} LOGIN NOSUPERUSER NOBYPASSRLS NOCREATEDB NOCREATEROLE")
    except DBAPIError as refused:  # another worker, or an earlier run, made it
        if "already exists" not in str(refused) and "pg_authid_rolname" not in str(refused):
            raise


def _not_here(reason: str) -> None:
    if NOTHING_MAY_BE_SKIPPED:
        pytest.fail(reason)
    pytest.skip(reason)
