"""Nonsense, somebody else's ids and broken forms get an answer, never a failure of the program."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, datetime
from random import Random
from typing import Any
from uuid import UUID

import pytest
from flask import Flask
from werkzeug.routing import Rule

from academy.content.library import CourseLibrary
from academy.services.demo_accounts import ACCOUNTS, DemoAccount
from academy.services.first_start import first_start
from academy.settings import PROJECT, read_settings
from academy.store.schema import upgrade
from academy.store.tables.practicals import Practical
from academy.store.tables.study import Sitting
from academy.web.app import create_app
from academy.web.context import EXTENSION

TIMES = 8
WORDS = (
    *("", "x", "-1", "0", "1", "9" * 40, "\x00", "☃" * 50, "true", "1,5", "NaN", "inf", "1e400"),
    *("' OR 1=1 --", "<script>x</script>", "met", "steel", "assessed", "before", "../..", "%s"),
    "00000000-0000-4000-8000-000000000000",
)
PARTS = ("x", "machines", "before", "working", "criteria", "..", "a" * 300, "removal", "dew-point")


@pytest.fixture(scope="module")
def app(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Flask]:
    settings = read_settings(
        {"ACADEMY_INSTANCE": str(tmp_path_factory.mktemp("instance"))}, demo=True
    )
    made = create_app(settings, library=CourseLibrary(PROJECT / "content"))
    made.config["WTF_CSRF_ENABLED"] = False  # the token is tested elsewhere
    composed = made.extensions[EXTENSION]
    upgrade(composed.database)
    with composed.database.writing() as session:
        first_start(session, course=composed.library.course, empty=False, now=datetime.now(UTC))
    yield made
    composed.database.close()


@pytest.mark.parametrize("account", ACCOUNTS, ids=lambda account: account.says)
def test_no_nonsense_makes_the_program_fail(app: Flask, account: DemoAccount) -> None:
    """Every address with random fields, other people's ids and hostile text: an answer below 500."""
    chance, ids, fields = Random(account.says), _ids(app), _field_names(app)
    client = app.test_client()
    signed = client.post(
        "/sign-in", data={"sign_in_name": account.sign_in_name, "password": account.password}
    )
    assert signed.status_code == 303
    failed = []
    for rule in app.url_map.iter_rules():
        for method in sorted((rule.methods or set()) & {"GET", "POST"}):
            if rule.endpoint in {"static", "people.sign_out"}:
                continue
            for _ in range(TIMES):
                address = _address(app, rule, chance, ids)
                sent = {
                    name: chance.choice((*WORDS, *map(str, ids)))
                    for name in chance.sample(fields, chance.randrange(len(fields)))
                }
                answer = (
                    client.post(address, data=sent)
                    if method == "POST"
                    else client.get(address, query_string=sent)
                )
                if answer.status_code >= 500:
                    failed.append((method, address, sent))
    assert failed == []


def _address(app: Flask, rule: Rule, chance: Random, ids: list[UUID]) -> str:
    values: dict[str, Any] = {}
    for name in rule.arguments:
        kind = type(rule._converters[name]).__name__
        values[name] = (
            chance.choice(ids)
            if kind == "UUIDConverter"
            else chance.randrange(9)
            if kind == "IntegerConverter"
            else chance.choice(PARTS)
        )
    with app.test_request_context():
        return app.url_for(rule.endpoint, **values)


def _ids(app: Flask) -> list[UUID]:
    with app.extensions[EXTENSION].database.reading() as session:
        practicals = [row.id for row in session.query(Practical.id)]
        sittings = [row.id for row in session.query(Sitting.id)]
    return [*practicals[:3], *sittings[:3], UUID("00000000-0000-4000-8000-000000000000")]


def _field_names(app: Flask) -> list[str]:
    """Return the names of every form's fields, so that a new form is tried as well."""
    from academy.web.forms import Form

    names = {name for form in _all_below(Form) for name in form.model_fields}
    readings = {"reading-1-1", "reading-5-2", "confirm-reading-1-1", "asked-reading-1-1"}
    panel = {"column", "understand", "leave-1", "why-1", "check-1", "reason-1", "planned_um"}
    answers = {"answer", "region", "place-1", "partner-1", "decision", "reading_id"}
    return sorted(names | readings | panel | answers)


def _all_below(kind: type[Any]) -> Iterator[type[Any]]:
    for below in kind.__subclasses__():
        yield below
        yield from _all_below(below)
