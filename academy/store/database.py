"""The database: reading transactions, and units of work that write.

SQLite runs in WAL with ``synchronous=FULL``, which is what keeps an
acknowledged sign-off through a power cut.  A reading transaction is a plain
BEGIN; a writing one is BEGIN IMMEDIATE under the write lock, because a plain
BEGIN that later writes loses updates or fails.  PostgreSQL needs neither; there
a reading transaction asks for REPEATABLE READ, so that a page shows one moment.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from sqlalchemy import Connection, Engine, create_engine, event, make_url
from sqlalchemy.orm import Session, sessionmaker

from academy.store.write_lock import WriteLock

BUSY_TIMEOUT_MS = 15_000


class Database:
    """One engine and the two ways to use it."""

    def __init__(self, engine: Engine, lock: WriteLock | None) -> None:
        self.engine = engine
        self._lock = lock
        self._readers = sessionmaker(_of_one_moment(engine), expire_on_commit=False)
        self._writers = sessionmaker(
            engine.execution_options(immediate=True), expire_on_commit=False
        )

    def reader(self) -> Session:
        """Return a session for reading; the caller closes it."""
        return self._readers()

    @contextmanager
    def reading(self) -> Iterator[Session]:
        """Read in one transaction; nothing is written."""
        with self._readers() as session:
            yield session

    @contextmanager
    def writing(self) -> Iterator[Session]:
        """Do one unit of work: commit once at the end, or nothing at all."""
        if self._lock is None:
            with self._writers() as session, session.begin():
                yield session
            return
        with self._lock.held(), self._writers() as session, session.begin():
            yield session

    def close(self) -> None:
        """Give all connections back."""
        self.engine.dispose()


def _of_one_moment(engine: Engine) -> Engine:
    """Return the engine whose transactions see one moment from their first statement on.

    SQLite's do.  PostgreSQL's see a new moment with every statement unless told otherwise.
    """
    if engine.dialect.name == "sqlite":
        return engine
    return engine.execution_options(isolation_level="REPEATABLE READ")


def open_database(url: str) -> Database:
    """Return the database at a SQLAlchemy URL; SQLite has to be a file."""
    parts = make_url(url)
    if parts.get_backend_name() != "sqlite":
        return Database(create_engine(url, pool_pre_ping=True), None)
    if not parts.database or parts.database == ":memory:":
        raise ValueError("an SQLite database has to be a file: sqlite:///path/to/academy.sqlite3")
    engine = create_engine(url, connect_args={"timeout": BUSY_TIMEOUT_MS / 1000})
    event.listen(engine, "connect", _set_pragmas)
    event.listen(engine, "begin", _begin)
    return Database(engine, WriteLock(Path(parts.database + ".lock")))


def _set_pragmas(connection: Any, _record: Any) -> None:
    # the driver's own BEGIN is switched off; _begin below says which one is meant
    connection.isolation_level = None
    for pragma in (
        "journal_mode=WAL",
        "synchronous=FULL",
        "foreign_keys=ON",
        f"busy_timeout={BUSY_TIMEOUT_MS}",
    ):
        connection.execute(f"PRAGMA {pragma}")


def _begin(connection: Connection) -> None:
    immediate = connection.get_execution_options().get("immediate", False)
    connection.exec_driver_sql("BEGIN IMMEDIATE" if immediate else "BEGIN")
