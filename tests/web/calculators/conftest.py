"""Somebody signed in who reads the calculators."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from flask import Flask

from academy.content.library import CourseLibrary
from academy.settings import PROJECT, read_settings
from academy.store.database import open_database
from academy.web.app import create_app
from tests.support.cast import PASSWORD, settle
from tests.support.databases import copy_sqlite
from tests.web.calculators.shown import Reader


@pytest.fixture(scope="session")
def site(laid_sqlite: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Flask]:
    """Compose the site over a shop with its people in it."""
    instance = tmp_path_factory.mktemp("calculators")
    database = open_database(copy_sqlite(laid_sqlite, instance))
    with database.writing() as session:
        settle(session)
    settings = read_settings({"ACADEMY_INSTANCE": str(instance)})
    yield create_app(settings, database=database, library=CourseLibrary(PROJECT / "content"))
    database.close()


@pytest.fixture(scope="session")
def reader(site: Flask) -> Reader:
    """Sign a trainee in."""
    client = site.test_client()
    token = re.search(r'name="csrf_token" value="([^"]+)"', client.get("/sign-in").text)
    assert token is not None
    form = {"sign_in_name": "mira", "password": PASSWORD, "csrf_token": token[1]}
    assert client.post("/sign-in", data=form).status_code == 303
    return Reader(client)
