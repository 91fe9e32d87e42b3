"""Readings in doubt on the pages: practical, logbook, board, and where they are settled."""

from __future__ import annotations

from pathlib import Path
from uuid import uuid4

import pytest
from flask import Flask
from flask.testing import FlaskClient

from academy.content.library import CourseLibrary
from academy.settings import PROJECT, read_settings
from academy.store.database import Database
from academy.store.queries.workshop import gauges
from academy.web.app import create_app
from tests.services.test_doubt import another_gauge
from tests.services.test_gauges import verify
from tests.support.cast import PASSWORD, Cast, settle
from tests.support.clock import later
from tests.support.course import a_course
from tests.support.journey import PanelSession, a_signed_practical

SAYS = "Bench gauge failed a verification after these readings"


@pytest.fixture
def settled(sqlite: Database) -> Cast:
    with sqlite.writing() as session:
        return settle(session)


@pytest.fixture
def done(sqlite: Database, settled: Cast) -> PanelSession:
    """Sign a practical, then let its gauge fail; another gauge is verified since."""
    with sqlite.writing() as session:
        shop = settled.shop
        signed = a_signed_practical(session, shop, a_course())
        verify(session, shop.supervisor, shop.bench.gauge_id, "104.0", later(hours=6))
        another_gauge(session, shop)
        return signed


@pytest.fixture
def app(sqlite: Database, done: PanelSession, tmp_path: Path) -> Flask:
    settings = read_settings({"ACADEMY_INSTANCE": str(tmp_path / "instance")})
    made = create_app(
        settings,
        database=sqlite,
        library=CourseLibrary(PROJECT / "content"),
        now=lambda: later(hours=9),
    )
    made.config["WTF_CSRF_ENABLED"] = False
    return made


def signed_in(app: Flask, name: str) -> FlaskClient:
    client = app.test_client()
    client.post("/sign-in", data={"sign_in_name": name, "password": PASSWORD})
    return client


def test_everybody_it_concerns_sees_the_doubt_and_by_when(app: Flask, done: PanelSession) -> None:
    address = f"/practicals/{done.id}"
    for name, may_settle in (("mira", False), ("jonas", True), ("ruth", True)):
        client = signed_in(app, name)
        page = client.get(address).text
        assert SAYS in page, name
        assert "by 16 March 2026" in page
        assert (f"{address}/doubt" in page) is may_settle
        assert SAYS in client.get("/practicals/").text
    board = signed_in(app, "ruth").get("/board/").text
    assert SAYS in board
    assert f"{address}/doubt" in board
    assert SAYS in signed_in(app, "jonas").get("/workshop/").text


def test_the_page_offers_each_person_what_they_may_do(app: Flask, done: PanelSession) -> None:
    address = f"/practicals/{done.id}/doubt"
    assert signed_in(app, "mira").get(address).status_code == 403
    assert signed_in(app, "umar").get(address).status_code in {403, 404}
    supervisor, owner = (signed_in(app, name).get(address).text for name in ("jonas", "ruth"))
    assert "Measure again</h2>" in supervisor
    assert "Decide without measuring" not in supervisor
    assert "Measure again</h2>" not in owner
    assert "Decide without measuring" in owner


def test_a_supervisor_measures_again_and_it_stands(
    app: Flask, done: PanelSession, sqlite: Database, settled: Cast
) -> None:
    client, address = signed_in(app, "jonas"), f"/practicals/{done.id}/doubt"
    with sqlite.reading() as session:
        second = next(g.id for g in gauges(session, settled.shop.shop_id) if "Second" in g.label)
    sent = {"settlement_id": str(uuid4()), "gauge_id": str(second)}
    spots = {f"spot-{n}": "109,1 109.3 109.2" for n in range(1, done.task.spots + 1)}
    for wrong, says in (
        ({"spot-1": "109 fifty 109"}, "Write thicknesses in µm"),
        ({"spot-1": "109.1"}, "at least 3 times"),
        ({"spot-1": "inf nan 1"}, "Write thicknesses in µm"),
        ({"gauge_id": str(done.people.bench.gauge_id)}, "failed its last verification"),
        ({"gauge_id": "x"}, "Choose one from the list"),
    ):
        answer = client.post(f"{address}/measured-again", data=sent | spots | wrong)
        assert answer.status_code == 422, wrong
        assert says in answer.text
        assert "109,1 109.3 109.2" in answer.text
    assert client.post(f"{address}/measured-again", data=sent | spots).status_code == 303
    page = client.get(f"/practicals/{done.id}").text
    assert SAYS not in page
    assert "it agrees, they stand" in page
    assert "Measured again with Second gauge" in client.get(address).text
    assert SAYS not in client.get("/board/").text


def test_an_owner_refuses_with_a_reason_that_stays_readable(app: Flask, done: PanelSession) -> None:
    client, address = signed_in(app, "ruth"), f"/practicals/{done.id}/doubt"
    sent = {"settlement_id": str(uuid4()), "decision": "refuse", "reason": ""}
    answer = client.post(f"{address}/decision", data=sent)
    assert answer.status_code == 422
    sent["reason"] = "the probe's foot was worn through"
    assert client.post(f"{address}/decision", data=sent).status_code == 303
    assert "worn through" in client.get(address).text
    assert "no longer counts" in signed_in(app, "mira").get(f"/practicals/{done.id}").text
