"""Pages show the shop's days and clock, with the zone's name; another shop's stay its own."""

from __future__ import annotations

from datetime import timedelta
from pathlib import Path
from uuid import uuid4

import pytest
from flask import Flask
from flask.testing import FlaskClient

from academy.content.library import CourseLibrary
from academy.domain.workshop.policy import ShopPolicy
from academy.services import panels, shop_settings
from academy.settings import PROJECT, read_settings
from academy.store.database import Database
from academy.store.queries.workshop import sections
from academy.web.app import create_app
from tests.services.test_gauges import verify
from tests.support.cast import PASSWORD, Cast, settle
from tests.support.clock import NOW

BEFORE_MIDNIGHT = NOW.replace(hour=23, minute=40)  # 2 March by UTC, 3 March in Berlin


@pytest.fixture
def settled(sqlite: Database) -> Cast:
    with sqlite.writing() as session:
        cast = settle(session)
        shop_settings.change_settings(
            session, actor=cast.shop.owner, settings=ShopPolicy("Europe/Berlin"), now=NOW
        )
        for shop in (cast.shop, cast.strangers):
            verify(session, shop.supervisor, shop.bench.gauge_id, now=BEFORE_MIDNIGHT)
            section_id = sections(session, shop.shop_id)[0].id
            new = panels.NewDefect(uuid4(), section_id, "a scratch", "by hand", 1)
            panels.prepare_defect(session, actor=shop.supervisor, new=new, now=BEFORE_MIDNIGHT)
        return cast


@pytest.fixture
def app(sqlite: Database, settled: Cast, tmp_path: Path) -> Flask:
    settings = read_settings({"ACADEMY_INSTANCE": str(tmp_path / "instance")})
    made = create_app(
        settings,
        database=sqlite,
        library=CourseLibrary(PROJECT / "content"),
        now=lambda: BEFORE_MIDNIGHT + timedelta(minutes=5),
    )
    made.config["WTF_CSRF_ENABLED"] = False
    return made


def signed_in(app: Flask, name: str) -> FlaskClient:
    client = app.test_client()
    client.post("/sign-in", data={"sign_in_name": name, "password": PASSWORD})
    return client


@pytest.mark.parametrize(
    ("who", "day", "clock"),
    [
        ("jonas", "3 March 2026", "3 March 2026, 00:40 <small>Europe/Berlin, UTC+01:00</small>"),
        ("sanna", "2 March 2026", "2 March 2026, 23:40 <small>UTC</small>"),
    ],
)
def test_each_shop_reads_its_own_clock(
    app: Flask, sqlite: Database, settled: Cast, who: str, day: str, clock: str
) -> None:
    shop = settled.shop if who == "jonas" else settled.strangers
    client = signed_in(app, who)
    assert f"{day}, magnetic" in client.get(f"/workshop/gauges/{shop.bench.gauge_id}").text
    assert "What is true on <time datetime" in client.get("/board/").text.replace("\n", " ")
    assert day in client.get("/board/").text
    with sqlite.reading() as session:
        panel_id = sections(session, shop.shop_id)[0].panel_id
    assert clock in client.get(f"/panels/{panel_id}").text


def test_what_the_owner_sets_shows_at_once(app: Flask, settled: Cast) -> None:
    owner = signed_in(app, "ruth")
    assert "3 March 2026" in owner.get("/board/").text
    sent = {
        "time_zone": "America/Chicago", "combine": "root-sum-square", "remeasure_days": "14",
        "car_cap_um": "8", "car_floor_um": "80",
    }  # fmt: skip
    assert owner.post("/workshop/settings", data=sent).status_code == 303
    assert "2 March 2026" in owner.get("/board/").text
