"""The workshop's pages: verifying a gauge, a panel's map and label, set-ups, data sheets, settings."""

from __future__ import annotations

import io
import re
from pathlib import Path
from uuid import uuid4

import pytest
from flask import Flask
from flask.testing import FlaskClient
from PIL import Image

from academy.content.library import CourseLibrary
from academy.domain.workshop.corrections import CORRECTABLE
from academy.settings import PROJECT, read_settings
from academy.store.database import Database
from academy.store.queries.workshop import gauge, sections
from academy.web.app import create_app
from academy.web.workshop.corrections import FORMS, field_words
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


def add_foil(client: FlaskClient) -> str:
    foil_id = str(uuid4())
    sent = {"foil_id": foil_id, "label": "Foil 50", "certified_um": "50,0", "tolerance_um": "0.5"}
    assert client.post("/workshop/foils", data=sent).status_code == 303
    return foil_id


def test_a_supervisor_verifies_a_gauge_and_the_workshop_stops_asking(
    app: Flask, settled: Cast
) -> None:
    client, gauge_id = signed_in(app, "jonas"), settled.shop.bench.gauge_id
    assert "not verified today: two minutes" in client.get("/workshop/").text
    foil_id = add_foil(client)
    address = f"/workshop/gauges/{gauge_id}/verify/magnetic"
    assert "Foil 50" in client.get(address).text
    sent = {
        "verification_id": str(uuid4()), "zero": "0,1 0.0 0.2", foil_id: "50.1 50.2 49.9",
    }  # fmt: skip
    assert client.post(address, data=sent).status_code == 303
    page = client.get(f"/workshop/gauges/{gauge_id}").text
    assert "verified today" in page
    assert "50.067" in page
    client.post(address, data=sent | {"verification_id": str(uuid4()), foil_id: "55 55 55"})
    assert "failed: nobody reads with it" in client.get("/workshop/").text


@pytest.mark.parametrize(
    ("zero", "foil", "says"),
    [
        ("", "50 50 50", "Read bare metal"),
        ("0 0", "50 50 50", "at least 3 times; 2 given"),
        ("0 0 0", "", "at least one certified foil"),
        ("0 0 0", "50 fifty 50", "Write at least three readings"),
        ("0 0 0", "nan nan nan", "Write at least three readings"),
        ("0 0 0", "1e999 50 50", "Write at least three readings"),
    ],
)
def test_a_verification_that_is_none_is_shown_again(
    app: Flask, settled: Cast, zero: str, foil: str, says: str
) -> None:
    client = signed_in(app, "jonas")
    foil_id = add_foil(client)
    address = f"/workshop/gauges/{settled.shop.bench.gauge_id}/verify/magnetic"
    answer = client.post(address, data={"zero": zero, foil_id: foil})
    assert answer.status_code == 422
    assert says in answer.text


@pytest.mark.parametrize("method", ["ultrasonic", "nonsense"])
def test_a_method_the_gauge_does_not_have_is_not_there(
    app: Flask, settled: Cast, method: str
) -> None:
    address = f"/workshop/gauges/{settled.shop.bench.gauge_id}/verify/{method}"
    assert signed_in(app, "jonas").get(address).status_code == 404


def test_a_new_gauge_keeps_what_was_typed(app: Flask, sqlite: Database, settled: Cast) -> None:
    client, gauge_id = signed_in(app, "ruth"), uuid4()
    sent = {
        "gauge_id": str(gauge_id), "label": "Gauge 2", "serial": "T-2", "methods": ["magnetic"],
        "resolution_um": "0,1", "repeatability_um": "0.4", "tolerance_um": "1",
        "tolerance_percent": "3", "certificate_due_on": "2026-09-01",
    }  # fmt: skip
    assert client.post("/workshop/gauges", data=sent | {"methods": []}).status_code == 422
    assert client.post("/workshop/gauges", data=sent).status_code == 303
    with sqlite.reading() as session:
        kept = gauge(session, settled.shop.shop_id, gauge_id)
    assert kept is not None
    assert ([m.value for m in kept.methods], str(kept.tolerance.percent)) == (["magnetic"], "3")


def test_a_trainee_scans_a_panel_and_changes_nothing(
    app: Flask, sqlite: Database, settled: Cast
) -> None:
    with sqlite.reading() as session:
        panel_id = sections(session, settled.shop.shop_id)[0].panel_id
    trainee = signed_in(app, "mira")
    page = trainee.get(f"/panels/{panel_id}")
    assert page.status_code == 200
    assert "left of a budget of 8 µm" in page.text
    assert "Prepare a defect" not in page.text
    assert trainee.get(f"/panels/{panel_id}/label").status_code == 403
    assert trainee.get("/workshop/settings").status_code == 403
    assert signed_in(app, "piet").get(f"/panels/{panel_id}").status_code == 404


def test_a_label_carries_a_code_for_the_panels_address(
    app: Flask, sqlite: Database, settled: Cast
) -> None:
    with sqlite.reading() as session:
        panel_id = sections(session, settled.shop.shop_id)[0].panel_id
    page = signed_in(app, "jonas").get(f"/panels/{panel_id}/label").text
    assert "<svg" in page
    assert f"http://127.0.0.1:8000/panels/{panel_id}" in page


def test_a_defect_is_prepared_with_its_photograph(
    app: Flask, sqlite: Database, settled: Cast
) -> None:
    client, section_id = signed_in(app, "jonas"), settled.shop.bench.section_ids[0]
    picture = io.BytesIO()
    Image.new("RGB", (40, 30), "red").save(picture, "PNG")
    sent = {"defect_id": str(uuid4()), "defect": "swirls", "how_made": "dry wash", "severity": "1"}
    address = f"/workshop/sections/{section_id}/defects"
    wrong = client.post(address, data=sent | {"photograph": (io.BytesIO(b"no"), "a.png")})
    assert wrong.status_code == 422
    picture.seek(0)
    right = client.post(address, data=sent | {"photograph": (picture, "a.png")})
    assert right.status_code == 303
    page = client.get(right.headers["Location"]).text
    assert "swirls, severity 1" in page
    assert "prepared" in page
    link = re.search(r'/workshop/defects/[^"]+', page)
    assert link is not None
    assert client.get(link.group()).mimetype == "image/jpeg"
    assert signed_in(app, "piet").get(link.group()).status_code == 404


def test_a_set_up_asks_for_its_products_sheet_until_it_is_read_and_again_when_revised(
    app: Flask,
) -> None:
    client, trainee = signed_in(app, "jonas"), signed_in(app, "mira")
    machine, product, set_up = str(uuid4()), str(uuid4()), str(uuid4())
    sheet = {
        "sheet_id": str(uuid4()),
        "revised_on": "2025-01-31",
        "link": "https://sheets.example/1",
    }
    made = [
        client.post("/workshop/machines", data={
            "machine_id": machine, "label": "DA 1", "kind": "free-spinning dual action",
            "plate_mm": "125", "vibration_source": "not known",
        }),
        client.post("/workshop/products", data=sheet | {
            "product_id": product, "label": "Polish A", "purpose": "haze",
        }),
        client.post("/workshop/set-ups", data={
            "set_up_id": set_up, "label": "One step", "machine_id": machine, "plate_mm": "125",
            "pad": "foam", "abrasive": "Polish A", "dial": "4", "product_id": product,
        }),
    ]  # fmt: skip
    assert [answer.status_code for answer in made] == [303, 303, 303]
    scanned = f"/set-ups/{set_up}"
    assert "Read it first" in trainee.get(scanned).text
    trainee.post(f"/products/{product}/sheets/{sheet['sheet_id']}/read")
    assert "Read it first" not in trainee.get(scanned).text
    newer = {"sheet_id": str(uuid4()), "revised_on": "2026-01-31", "link": sheet["link"]}
    assert client.post(f"/workshop/products/{product}/sheets", data=newer).status_code == 303
    assert "Read it first" in trainee.get(scanned).text
    script = newer | {"sheet_id": str(uuid4()), "link": "javascript:alert(1)"}
    assert client.post(f"/workshop/products/{product}/sheets", data=script).status_code == 422


@pytest.mark.parametrize(
    ("change", "says"),
    [
        ({"time_zone": "Mars/Base"}, "There is no time zone"),
        ({"remeasure_days": "0"}, "Write 1 or more"),
        ({"car_cap_um": "-1"}, "Write more than 0"),
        ({"combine": "neither"}, "Choose one of the options"),
    ],
)
def test_settings_that_cannot_hold_are_refused(
    app: Flask, change: dict[str, str], says: str
) -> None:
    good = {
        "time_zone": "Europe/Berlin", "combine": "sum", "remeasure_days": "7",
        "car_cap_um": "6,5", "car_floor_um": "85",
    }  # fmt: skip
    owner = signed_in(app, "ruth")
    answer = owner.post("/workshop/settings", data=good | change)
    assert answer.status_code == 422
    assert says in answer.text
    assert owner.post("/workshop/settings", data=good).status_code == 303
    assert 'value="6.5"' in owner.get("/workshop/settings").text


def test_a_gauge_study_is_read_page_by_page_and_its_repeatability_taken_over(
    app: Flask, sqlite: Database, settled: Cast
) -> None:
    """Two people, two sections, two rounds; the pairs differ by 1, 1, 1 and 1 µm: s = √0.5."""
    client, shop = signed_in(app, "jonas"), settled.shop
    study = str(uuid4())
    chosen = {
        "study_id": study, "repeats": "2",
        "people": [str(shop.supervisor.person_id), str(shop.trainee.person_id)],
        "sections": [str(section) for section in shop.bench.section_ids],
    }  # fmt: skip
    begin = f"/workshop/gauges/{shop.bench.gauge_id}/studies"
    assert client.post(begin, data=chosen | {"people": chosen["people"][:1]}).status_code == 422
    assert client.post(begin, data=chosen).status_code == 303
    here = f"/workshop/studies/{study}"
    for person, first, second in (
        ("Jonas Pell", "100", "120,0"),
        ("Mira Holt", "102", "122"),
        ("Jonas Pell", "101", "121"),
        ("Mira Holt", "103", "123"),
    ):
        page = client.get(here).text
        assert f"{person} reads" in page
        turn = re.search(r'name="turn" value="([^"]+)"', page)
        assert turn is not None
        sent = {"round_id": str(uuid4()), "turn": turn.group(1), "section-1": first}
        assert client.post(f"{here}/rounds", data=sent).status_code == 422
        assert client.post(f"{here}/rounds", data=sent | {"section-2": second}).status_code == 303
        stale = client.post(f"{here}/rounds", data=sent | {"section-2": second})
        assert stale.status_code in {303, 422}
    answer = client.get(here).text
    assert "scatters by 0.71 µm" in answer
    assert client.post(f"{here}/take-over").status_code == 303
    with sqlite.reading() as session:
        kept = gauge(session, shop.shop_id, shop.bench.gauge_id)
    assert kept is not None
    assert str(kept.repeatability_um) == "0.71"


def test_an_electrical_check_that_was_due_is_said_until_the_next_one_is_noted(app: Flask) -> None:
    client, machine = signed_in(app, "jonas"), str(uuid4())
    client.post("/workshop/machines", data={
        "machine_id": machine, "label": "DA 1", "kind": "rotary", "plate_mm": "125",
        "vibration_source": "not known", "check_due_on": "2026-02-28",
    })  # fmt: skip
    assert "electrical check was due on 28 February 2026" in client.get("/workshop/").text
    address = f"/workshop/machines/{machine}/check"
    backwards = {"checked_on": "2026-03-02", "check_due_on": "2026-03-01"}
    assert client.post(address, data=backwards).status_code == 422
    good = backwards | {"check_due_on": "2027-03-01"}
    assert client.post(address, data=good).status_code == 303
    assert "electrical check due on 1 March 2027" in client.get("/workshop/").text
    assert signed_in(app, "piet").get(address).status_code in {403, 404}


def test_what_was_typed_wrong_is_corrected_where_it_stands(app: Flask, settled: Cast) -> None:
    client, gauge_id = signed_in(app, "jonas"), settled.shop.bench.gauge_id
    entry = f"/workshop/corrections/gauge/{gauge_id}"
    assert entry in client.get(f"/workshop/gauges/{gauge_id}").text
    assert "T-0001" in client.get(entry).text
    address = f"{entry}/resolution_um"
    assert "It reads: 0.1" in client.get(address).text
    sent = {"correction_id": str(uuid4()), "seen": "0.1", "reason": "the manual says 0.5"}
    for value, says in (("half", "Write a number"), ("", "Write a number"), ("0", "more than 0")):
        answer = client.post(address, data=sent | {"value": value})
        assert answer.status_code == 422
        assert says in answer.text
    answer = client.post(address, data=sent | {"value": "0,5", "reason": ""})
    assert answer.status_code == 422
    assert 'value="0,5"' in answer.text
    assert client.post(address, data=sent | {"value": "0,5"}).status_code == 303
    page = client.get(entry).text
    assert "the manual says 0.5" in page
    assert "0.5 µm" in client.get(f"/workshop/gauges/{gauge_id}").text
    stale = sent | {"correction_id": str(uuid4()), "value": "0.2"}
    assert "Somebody has changed this" in client.post(address, data=stale).text


@pytest.mark.parametrize(
    "address",
    [
        "/workshop/corrections/gauge/{id}/methods",
        "/workshop/corrections/car/{id}",
        "/workshop/corrections/panel/{id}",
        "/workshop/corrections/foil/{id}/label",
    ],
)
def test_nothing_else_can_be_corrected(app: Flask, settled: Cast, address: str) -> None:
    gauge_id = settled.shop.bench.gauge_id
    assert signed_in(app, "jonas").get(address.format(id=gauge_id)).status_code == 404
    assert signed_in(app, "mira").get(address.format(id=gauge_id)).status_code == 403


def test_every_correctable_field_has_a_word_and_a_form(app: Flask) -> None:
    with app.test_request_context():
        words = field_words()
    for thing, fields in CORRECTABLE.items():
        assert set(fields) <= set(words)
        assert set(fields) <= set(FORMS[thing].model_fields)
