"""The logbook's pages: who sees whose, one tap for a drill, corrections, the day at machines."""

from __future__ import annotations

import re
from pathlib import Path
from uuid import UUID, uuid4

import pytest
from flask import Flask
from flask.testing import FlaskClient

from academy.content.library import CourseLibrary
from academy.settings import PROJECT, read_settings
from academy.store.database import Database
from academy.store.queries.exposure import tool_times
from academy.store.queries.logbook import entries_of
from academy.web.app import create_app
from tests.support.cast import PASSWORD, Cast, settle
from tests.support.clock import NOW


@pytest.fixture
def settled(sqlite: Database) -> Cast:
    with sqlite.writing() as session:
        return settle(session)


@pytest.fixture
def app(sqlite: Database, settled: Cast, tmp_path: Path) -> Flask:
    settings = read_settings({"ACADEMY_INSTANCE": str(tmp_path / "instance")})
    made = create_app(
        settings, database=sqlite, library=CourseLibrary(PROJECT / "content"), now=lambda: NOW
    )
    made.config["WTF_CSRF_ENABLED"] = False
    return made


def signed_in(app: Flask, name: str) -> FlaskClient:
    client = app.test_client()
    client.post("/sign-in", data={"sign_in_name": name, "password": PASSWORD})
    return client


def enter(client: FlaskClient, person_id: UUID, **overrides: str) -> str:
    """Enter practice work and return the id of the entry."""
    entry_id = str(uuid4())
    sent = {
        "entry_id": entry_id,
        "task_id": "single-step-polishing",
        "stage": "assisted",
        "worked_on": NOW.date().isoformat(),
        "worked_at": "Door 2",
        "note": "held the lamp",
    }
    answer = client.post(f"/logbooks/{person_id}/entries", data=sent | overrides)
    assert answer.status_code == 303, answer.text
    return entry_id


def test_a_trainee_enters_work_and_a_supervisor_confirms_it(app: Flask, settled: Cast) -> None:
    person_id = settled.shop.trainee.person_id
    trainee, supervisor = signed_in(app, "mira"), signed_in(app, "jonas")
    entry_id = enter(trainee, person_id)
    assert "waits for a supervisor" in trainee.get("/logbook").text
    assert "Mira Holt: Single-step polishing" in supervisor.get("/logbooks").text
    assert (
        "Confirm it only if you saw the work" in supervisor.get(f"/logbook-entries/{entry_id}").text
    )
    supervisor.post(f"/logbook-entries/{entry_id}/confirm")
    mine = trainee.get("/logbook").text
    assert "assisted, confirmed by Jonas Pell" in mine
    assert "held the lamp" in mine, "the trainee reads every note"
    assert "Nothing waits" in supervisor.get("/logbooks").text


def test_alone_without_the_level_is_answered_with_the_form_as_typed(
    app: Flask, settled: Cast
) -> None:
    person_id = settled.shop.trainee.person_id
    sent = {
        "entry_id": str(uuid4()),
        "task_id": "single-step-polishing",
        "stage": "alone",
        "worked_on": NOW.date().isoformat(),
        "worked_at": "Door 2 of job 41",
    }
    answer = signed_in(app, "mira").post(f"/logbooks/{person_id}/entries", data=sent)
    assert answer.status_code == 422
    assert "enter it as supervised" in answer.text
    assert "Door 2 of job 41" in answer.text


@pytest.mark.parametrize(
    ("who", "whose", "status"),
    [
        ("mira", "trainee", 200),
        ("mira", "supervisor", 404),
        ("jonas", "trainee", 200),
        ("ruth", "trainee", 200),
        ("noel", "trainee", 404),
        ("sanna", "trainee", 404),
        ("piet", "trainee", 404),
    ],
)
@pytest.mark.parametrize("page", ["", "/day", "/drills"])
def test_whose_logbook_somebody_sees(
    app: Flask, settled: Cast, who: str, whose: str, status: int, page: str
) -> None:
    person_id = getattr(settled.shop, whose).person_id
    assert signed_in(app, who).get(f"/logbooks/{person_id}{page}").status_code == status


def test_one_tap_logs_a_drill_and_a_second_tap_of_the_same_page_is_the_same_drill(
    app: Flask, settled: Cast, sqlite: Database
) -> None:
    trainee, person_id = signed_in(app, "mira"), settled.shop.trainee.person_id
    page = trainee.get(f"/logbooks/{person_id}/drills").text
    entry_id, drill_id = re.findall(
        r'name="entry_id" value="([^"]+)">\s*<input type="hidden" name="drill_id" value="([^"]+)"',
        page,
    )[0]
    for _ in range(2):
        answer = trainee.post(
            f"/logbooks/{person_id}/drills", data={"entry_id": entry_id, "drill_id": drill_id}
        )
        assert answer.status_code == 303
    with sqlite.reading() as session:
        (row,) = entries_of(session, settled.shop.shop_id, person_id)
    assert row.subject_id == drill_id
    assert "last done on 2 March 2026" in trainee.get(f"/logbooks/{person_id}/drills").text


def test_a_correction_asks_why_and_leaves_the_old_entry_to_be_read(
    app: Flask, settled: Cast
) -> None:
    trainee, person_id = signed_in(app, "mira"), settled.shop.trainee.person_id
    entry_id = enter(trainee, person_id)
    address = f"/logbook-entries/{entry_id}/correction"
    assert "Door 2" in trainee.get(address).text
    sent = {
        "entry_id": str(uuid4()),
        "task_id": "single-step-polishing",
        "stage": "observed",
        "worked_on": NOW.date().isoformat(),
        "worked_at": "Door 3",
    }
    assert "Say why" in trainee.post(address, data=sent).text
    assert trainee.post(address, data=sent | {"reason": "the other door"}).status_code == 303
    old = trainee.get(f"/logbook-entries/{entry_id}").text
    assert "a newer entry stands in its place" in old
    assert "Put it right" not in old
    newer = trainee.get(f"/logbook-entries/{sent['entry_id']}").text
    assert "the other door" in newer
    trainee.post(
        f"/logbook-entries/{sent['entry_id']}/take-back",
        data={"new_id": str(uuid4()), "reason": "it was another day"},
    )
    assert "taken back: it was another day" in trainee.get("/logbook").text


def test_a_day_asks_first_and_then_adds_up_with_its_range(
    app: Flask, settled: Cast, sqlite: Database
) -> None:
    trainee, person_id = signed_in(app, "mira"), settled.shop.trainee.person_id
    address = f"/logbooks/{person_id}/day"
    first = trainee.get(address).text
    assert "here or elsewhere?" in first
    assert "Recorded part only" in first
    stated = {
        "time_id": str(uuid4()),
        "minutes": "60",
        "says": "a sander",
        "vibration_m_s2": "5",
        "vibration_uncertainty_m_s2": "1,5",
    }
    assert trainee.post(f"{address}?day={NOW.date()}", data=stated).status_code == 303
    page = trainee.get(address).text
    # 2 a² T by hand: 50 points, 24.5 at 3.5 and 84.5 at 6.5 m/s²
    assert "50, between 24 and 84" in page
    assert "The action value is near" in page
    assert "here or elsewhere?" not in page
    with sqlite.reading() as session:
        (row,) = tool_times(session, settled.shop.shop_id, person_id, NOW.date())
    corrected = {"time_id": str(uuid4()), "minutes": "6", "reason": "six, not sixty"}
    answer = trainee.post(f"/tool-times/{row.id}/correction", data=corrected)
    assert answer.status_code == 303
    assert "6 min 0 s" in trainee.get(address).text


@pytest.mark.parametrize("day", ["yesterday", "2026-02-30", "20260302T10", "9999-99-99"])
def test_nonsense_is_no_day(app: Flask, settled: Cast, day: str) -> None:
    address = f"/logbooks/{settled.shop.trainee.person_id}/day?day={day}"
    assert signed_in(app, "mira").get(address).status_code == 404


@pytest.mark.parametrize("minutes", ["", "-1", "1441", "nan", "inf", "1e9", "ten", "0.00001"])
def test_nonsense_is_no_time(app: Flask, settled: Cast, minutes: str) -> None:
    address = f"/logbooks/{settled.shop.trainee.person_id}/day"
    sent = {"time_id": str(uuid4()), "minutes": minutes}
    assert signed_in(app, "mira").post(address, data=sent).status_code == 422


@pytest.mark.parametrize("day", ["0001-01-01", "1999-12-31", "2026-03-03", "9999-12-31"])
def test_a_day_to_come_or_before_there_were_records_is_not_shown(
    app: Flask, settled: Cast, day: str
) -> None:
    address = f"/logbooks/{settled.shop.trainee.person_id}/day?day={day}"
    assert signed_in(app, "mira").get(address).status_code == 404


def test_the_owner_states_the_country_and_the_day_says_whose_values_hold(
    app: Flask, settled: Cast
) -> None:
    owner = signed_in(app, "ruth")
    sent = {
        "time_zone": "Europe/Stockholm",
        "combine": "root-sum-square",
        "remeasure_days": "14",
        "car_cap_um": "8",
        "car_floor_um": "80",
        "country": "SE",
    }
    assert owner.post("/workshop/settings", data=sent).status_code == 303
    assert '<option value="SE" selected>Sweden' in owner.get("/workshop/settings").text
    page = owner.get(f"/logbooks/{settled.shop.trainee.person_id}/day").text
    assert "Directive 2002/44/EC, article 3" in page
    assert "that assessment decides" in page
