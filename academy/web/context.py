"""What a request works with: the settings, the course, the clock and the database.

A GET reads in one plain transaction and never writes.  A POST reads what it
needs, proves what it must with no transaction open, and then does one unit of
work that commits before anything is shown.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import UTC, datetime

from flask import abort, current_app, g
from sqlalchemy.orm import Session

from academy.content.library import CourseLibrary
from academy.domain.curriculum.course import Course
from academy.files.photographs import PhotographStore
from academy.settings import Settings
from academy.store.database import Database

EXTENSION = "academy"


def wall_clock() -> datetime:
    """Return the time now, aware and in UTC."""
    return datetime.now(UTC)


@dataclass(frozen=True, slots=True)
class Academy:
    """Everything the application was composed from."""

    settings: Settings
    database: Database
    library: CourseLibrary
    photographs: PhotographStore
    now: Callable[[], datetime]


def academy() -> Academy:
    """Return what this application was composed from."""
    composed: Academy = current_app.extensions[EXTENSION]
    return composed


def clock() -> datetime:
    """Return the time now."""
    return academy().now()


def course() -> Course:
    """Return the last good course; without one the page says that it is being mended."""
    good = academy().library.course
    if not good.digest:
        abort(503)
    return good


def db() -> Session:
    """Return this request's reading session."""
    if "reading" not in g:
        g.reading = academy().database.reader()
    session: Session = g.reading
    return session


def release() -> None:
    """End the reading transaction, so that none is open while a password is checked."""
    session = g.pop("reading", None)
    if session is not None:
        session.close()


@contextmanager
def unit_of_work() -> Iterator[Session]:
    """Do one unit of work: it commits at the end of the block, or writes nothing."""
    release()
    with academy().database.writing() as session:
        yield session
