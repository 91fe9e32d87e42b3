"""The site over the real course, with a shop's people signed in on clients of their own."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import datetime
from pathlib import Path

import pytest
from flask import Flask
from flask.testing import FlaskClient

from academy.content.library import CourseLibrary
from academy.domain.curriculum.course import Course
from academy.settings import PROJECT, read_settings
from academy.store.database import Database, open_database
from academy.store.schema import upgrade
from academy.web.app import create_app
from tests.support.cast import PASSWORD, Cast, settle
from tests.support.clock import NOW


@dataclass
class Moment:
    """A clock that a test sets."""

    now: datetime = NOW

    def __call__(self) -> datetime:
        return self.now


@dataclass
class Site:
    """The application, its people, and its clock."""

    app: Flask
    database: Database
    course: Course
    cast: Cast
    moment: Moment
    clients: dict[str, FlaskClient] = field(default_factory=dict)

    def client(self, name: str) -> FlaskClient:
        """Return the browser of a person, by first name, signed in once."""
        if name not in self.clients:
            client = self.app.test_client()
            sent = {"sign_in_name": name, "password": PASSWORD}
            assert client.post("/sign-in", data=sent).status_code == 303
            self.clients[name] = client
        return self.clients[name]


def hidden(page: str, name: str) -> str:
    """Return the value of a hidden field."""
    found = re.search(rf'name="{name}" value="([^"]*)"', page)
    assert found, name
    return found[1]


@pytest.fixture(scope="module")
def library() -> CourseLibrary:
    return CourseLibrary(PROJECT / "content")


@pytest.fixture
def site(tmp_path: Path, library: CourseLibrary) -> Iterator[Site]:
    settings = read_settings({"ACADEMY_INSTANCE": str(tmp_path)})
    database = open_database(settings.database_url)
    upgrade(database)
    with database.writing() as session:
        cast = settle(session)
    moment = Moment()
    app = create_app(settings, database=database, library=library, now=moment)
    app.config["WTF_CSRF_ENABLED"] = False  # the token is tested elsewhere
    yield Site(app, database, library.course, cast, moment)
    database.close()
