"""The panel's pages: what each stage takes, asks again and refuses, and what is left when it did."""

from __future__ import annotations

import io
from dataclasses import dataclass
from pathlib import Path
from typing import Any
from uuid import UUID, uuid4

import pytest
from flask import Flask
from flask.testing import FlaskClient
from werkzeug.test import TestResponse

from academy.content.library import CourseLibrary
from academy.domain.practical.record import Practical
from academy.domain.practical.stages import Stage, stages_of
from academy.settings import read_settings
from academy.store.database import Database
from academy.store.queries.practicals import StoredPractical, stored_practical
from academy.web.app import create_app
from tests.support.cast import PASSWORD, Cast, settle
from tests.support.clock import NOW
from tests.support.morning import verify_for_the_day
from tests.support.panel_forms import WITH_PICTURE, SmallLibrary, a_picture, stage_form


@dataclass(frozen=True)
class Panel:
    """One open practical, and the supervisor's phone at it."""

    app: Flask
    database: Database
    cast: Cast
    id: UUID
    phone: FlaskClient

    @property
    def stored(self) -> StoredPractical:
        with self.database.reading() as session:
            found = stored_practical(session, self.cast.shop.shop_id, self.id)
        assert found is not None
        return found

    @property
    def practical(self) -> Practical:
        return self.stored.practical

    def send(self, stage: str, /, **overrides: Any) -> TestResponse:
        """Send the form of a stage as the phone does; ``picture=False`` leaves its photograph out."""
        picture = overrides.pop("picture", True)
        data = stage_form(stage, self.practical.version, **overrides)
        if picture and stage in WITH_PICTURE:
            data["photograph"] = (io.BytesIO(a_picture(len(stage))), "photograph.jpg")
        return self.phone.post(f"/practicals/{self.id}/stages/{stage}", data=data)

    def up_to(self, stage: Stage) -> None:
        """Record every stage before this one."""
        for earlier in self.practical.stages:
            if earlier is stage:
                return
            assert self.send(earlier.value).status_code == 303, earlier

    def page(self, stage: str = "") -> str:
        """Return the page of a stage, or of the practical."""
        address = f"/practicals/{self.id}" + (f"/stages/{stage}" if stage else "")
        return self.phone.get(address).text


@pytest.fixture
def app(sqlite: Database, tmp_path: Path) -> Flask:
    settings = read_settings({"ACADEMY_INSTANCE": str(tmp_path / "instance")})
    library: CourseLibrary = SmallLibrary()  # type: ignore[assignment]
    made = create_app(settings, database=sqlite, library=library, now=lambda: NOW)
    made.config["WTF_CSRF_ENABLED"] = False
    return made


@pytest.fixture
def panel(app: Flask, sqlite: Database) -> Panel:
    with sqlite.writing() as session:
        settled = settle(session)
        verify_for_the_day(session, settled.shop, NOW)
    phone = signed_in(app, "jonas")
    opened = open_practical(phone, settled)
    return Panel(app, sqlite, settled, opened, phone)


def signed_in(app: Flask, name: str) -> FlaskClient:
    client = app.test_client()
    client.post("/sign-in", data={"sign_in_name": name, "password": PASSWORD})
    return client


def open_practical(phone: FlaskClient, settled: Cast, kind: str = "assessed") -> UUID:
    practical_id = uuid4()
    sent = {
        "practical_id": str(practical_id),
        "trainee_id": str(settled.shop.trainee.person_id),
        "task_id": "polish a section",
        "section_id": str(settled.shop.bench.section_ids[0]),
        "gauge_id": str(settled.shop.bench.gauge_id),
        "kind": kind,
    }
    assert phone.post("/practicals/", data=sent).status_code == 303
    return practical_id


def test_a_whole_practical_is_recorded_stage_by_stage(panel: Panel) -> None:
    for stage in panel.practical.stages:
        assert panel.practical.next_stage is stage
        assert panel.send(stage.value).status_code == 303
    assert panel.practical.next_stage is None
    page = panel.page()
    assert "Within the limit" in page
    assert "Arm speed about 42 mm/s" in page
    assert "The trainee expected" in page
    assert len(panel.stored.photographs) == 2


def test_the_same_form_sent_twice_is_one_step(panel: Panel) -> None:
    panel.up_to(Stage.BEFORE)
    step = str(uuid4())
    for _ in range(2):
        sent = stage_form("before", 2, step_id=step)
        answer = panel.phone.post(f"/practicals/{panel.id}/stages/before", data=sent)
        assert answer.status_code == 303
    assert panel.practical.version == 3


def test_a_stale_page_gets_a_sentence_and_keeps_what_was_typed(panel: Panel) -> None:
    panel.up_to(Stage.PLAN)
    answer = panel.send("plan", version="2", plan="two sets and a prayer")
    assert answer.status_code == 422
    assert "Another step was recorded since you opened this page" in answer.text
    assert "two sets and a prayer" in answer.text
    assert panel.practical.plan is None


@pytest.mark.parametrize("who", ["greta", "mira", "ruth"])
def test_nobody_else_records_at_this_panel(panel: Panel, who: str) -> None:
    other = signed_in(panel.app, who)
    for method in (other.get, other.post):
        for place in ("stages/first-look", "stop"):
            assert method(f"/practicals/{panel.id}/{place}").status_code in {403, 404}
    assert panel.practical.version == 0


def test_a_photograph_is_kept_even_when_the_form_is_refused(panel: Panel) -> None:
    answer = panel.send("first-look", light="")
    assert answer.status_code == 422
    assert "One photograph is kept" in answer.text
    assert panel.send("first-look", picture=False).status_code == 303
    look = panel.practical.steps[0].body
    assert look.photographs == panel.stored.pictures_of(Stage.FIRST_LOOK)  # type: ignore[union-attr]


@pytest.mark.parametrize("file", [b"", b"not a picture", a_picture()[:80]])
def test_what_is_no_photograph_gets_a_sentence(panel: Panel, file: bytes) -> None:
    sent = stage_form("first-look", 0) | {"photograph": (io.BytesIO(file), "x.jpg")}
    answer = panel.phone.post(f"/practicals/{panel.id}/stages/first-look", data=sent)
    assert answer.status_code == 422
    assert "not a photograph" in answer.text
    assert "swirls all over" in answer.text


def test_set_up_takes_exceptions_with_a_reason_and_never_protection(panel: Panel) -> None:
    panel.up_to(Stage.SET_UP)
    refused = panel.send("set-up", **{"check-2": "does-not-apply"})
    assert "Say why this does not apply: cord over the shoulder" in refused.text
    refused = panel.send("set-up", **{"check-1": "does-not-apply", "reason-1": "in the way"})
    assert "Protective equipment is not left out" in refused.text
    assert "Not ready to work" in panel.send("set-up", **{"check-2": "missing"}).text
    assert "Not ready to work" in panel.send("set-up", all_present="").text
    good = panel.send("set-up", **{"check-2": "does-not-apply", "reason-2": "battery machine"})
    assert good.status_code == 303
    assert "battery machine" in panel.page()


@pytest.mark.parametrize(
    ("overrides", "says"),
    [
        ({"foil_reading_um": ""}, "Read the foil once more"),
        ({"foil_reading_um": "131"}, "Do not read with it"),
        ({"foil_reading_um": "abc"}, "Write a number"),
    ],
)
def test_the_gauge_is_proved_on_its_foil(
    panel: Panel, overrides: dict[str, str], says: str
) -> None:
    panel.up_to(Stage.SET_UP)
    answer = panel.send("set-up", **overrides)
    assert answer.status_code == 422
    assert says in answer.text


def test_an_odd_reading_is_asked_about_and_the_dropped_one_stays(panel: Panel) -> None:
    panel.up_to(Stage.BEFORE)
    asked = panel.send("before", **{"reading-1-3": "121.4"})
    assert asked.status_code == 422
    assert "far from the other readings of this spot" in asked.text
    again = {"reading-1-3": "110.2", "asked-reading-1-3": "121.4"}
    assert panel.send("before", **again).status_code == 303
    read = panel.practical.before
    assert read is not None
    assert [str(value) for value in read.spots[0].dropped_um] == ["121.4"]
    assert "121.4 (asked about and read again)" in panel.page()


def test_a_reading_left_out_needs_a_reason_and_another_reading(panel: Panel) -> None:
    panel.up_to(Stage.BEFORE)
    left = {"leave-1": "3"}
    assert "Read this spot again" in panel.send("before", **left).text
    left |= {"reading-1-4": "110.2"}
    assert "Say why this reading is left out" in panel.send("before", **left).text
    assert panel.send("before", **left, **{"why-1": "dirt under the probe"}).status_code == 303
    read = panel.practical.before
    assert read is not None
    assert (len(read.spots[0].readings_um), len(read.spots[0].dropped_um)) == (3, 1)
    assert read.spots[0].dropped_reason == "dirt under the probe"


@pytest.mark.parametrize(
    ("column", "unit", "first"),
    [
        ("110,1\n110,2\n110,3\n109,9\n110,0\n110,4", "um", "110,1"),
        ("4.33 4.34 4.33 4.32 4.33 4.34", "mil", "110.0"),
    ],
)
def test_a_pasted_column_fills_the_boxes_and_is_saved_by_the_next_tap(
    panel: Panel, column: str, unit: str, first: str
) -> None:
    panel.up_to(Stage.BEFORE)
    empty = {f"reading-{spot}-{number}": "" for spot in (1, 2) for number in (1, 2, 3)}
    shown = panel.send("before", **empty, column=column, column_unit=unit, understand="yes")
    assert shown.status_code == 200
    assert "6 readings are filled in" in shown.text
    assert f'value="{first}"' in shown.text
    assert panel.practical.before is None


def test_a_column_that_is_none_is_refused_and_nothing_typed_is_lost(panel: Panel) -> None:
    panel.up_to(Stage.BEFORE)
    shown = panel.send("before", **{"reading-2-3": ""}, column="1;112,4\n2;110,2", understand="yes")
    assert "a table of several columns" in shown.text
    assert 'value="110,1"' in shown.text
    assert "1;112,4" in shown.text


def test_copied_readings_come_with_a_photograph_of_the_sheet(panel: Panel) -> None:
    panel.up_to(Stage.BEFORE)
    assert "need a photograph of the sheet" in panel.send("before", copied="yes").text
    sheet = (io.BytesIO(a_picture(99)), "sheet.jpg")
    assert panel.send("before", copied="yes", photograph=sheet).status_code == 303
    read = panel.practical.before
    assert read is not None
    assert read.copied
    assert read.sheet == panel.stored.pictures_of(Stage.BEFORE)


def test_the_bench_sheet_has_a_box_for_each_reading(panel: Panel) -> None:
    page = panel.phone.get("/practicals/bench-sheet/polish a section").text
    assert page.count('<tr><th scope="row">') == 4
    assert panel.phone.get("/practicals/bench-sheet/nothing").status_code == 404


def test_the_same_again_is_one_tap_and_one_thing_changed(panel: Panel) -> None:
    panel.up_to(Stage.TRAINEE_MARKS)
    assert "the same again" in panel.page("working")
    same = dict.fromkeys(("machine", "pad", "pad_mm", "abrasive", "dial"), "")
    assert panel.send("working", **same | {"set_up": "same", "dial": "3"}).status_code == 303
    first, second = panel.practical.working_steps
    assert (second.machine, second.pad_mm, second.dial) == (first.machine, 130, "3")
    nothing = panel.send("working", **same | {"set_up": ""})
    assert "Choose a set-up, or type what is used" in nothing.text


def test_further_cutting_is_never_answered_with_a_plain_yes(panel: Panel) -> None:
    panel.up_to(Stage.TRAINEE_MARKS)
    page = panel.page("working")
    assert "May this section be cut again?" in page
    assert "Ask." in page  # the panel's history is unknown
    assert "µm used and at most" in page


@pytest.mark.parametrize("planned", ["NaN", "inf", "-3", "x", "1e400", "9" * 400, "3,5"])
def test_any_plan_in_the_address_gets_an_answer(panel: Panel, planned: str) -> None:
    panel.up_to(Stage.TRAINEE_MARKS)
    address = f"/practicals/{panel.id}/stages/working"
    answer = panel.phone.get(address, query_string={"planned_um": planned})
    assert answer.status_code == 200
    assert ("3.90 µm" in answer.text) is (planned == "3,5")


def test_more_readings_are_added_to_those_that_stand(panel: Panel) -> None:
    panel.up_to(Stage.CRITERIA)
    assert 'value="109.3"' in panel.page("after")
    more = {"reading-1-4": "109.3", "reading-1-5": "109.2", "reading-1-6": "109.3"}
    assert panel.send("after", **more).status_code == 303
    read = panel.practical.after
    assert read is not None
    assert len(read.spots[0].readings_um) == 6


def test_stopping_ends_it_from_any_page_and_says_so(panel: Panel) -> None:
    panel.up_to(Stage.WORKING)
    assert "Stop for safety" in panel.page("working")
    address, step = f"/practicals/{panel.id}/stop", str(uuid4())
    empty = panel.phone.post(address, data={"step_id": step, "reason": "heat", "says": " "})
    assert empty.status_code == 422
    for _ in range(2):
        sent = {"step_id": step, "reason": "heat", "says": "60 °C at the edge"}
        assert panel.phone.post(address, data=sent).status_code == 303
    stored = panel.stored
    assert stored.record is not None
    assert stored.record.record["outcome"] == "stopped"
    assert "60 °C at the edge" not in str(stored.record.record)
    assert "counts for nobody and against nobody" in panel.page()
    assert panel.send("working").status_code == 422


def test_several_trainees_are_one_tap_apart(panel: Panel) -> None:
    assert "Open at the panel" not in panel.page("first-look")
    other = open_practical(panel.phone, panel.cast, "coached")
    page = panel.page("first-look")
    assert f'href="/practicals/{other}/stages/first-look"' in page


def test_nonsense_at_every_stage_is_an_answer(panel: Panel) -> None:
    """Each stage with every field wrong: a sentence, and nothing recorded."""
    for stage in stages_of(panel.practical.task):
        before = panel.practical.version
        wrong = dict.fromkeys(stage_form(stage.value, 0), "☃" * 3000)
        answer = panel.phone.post(f"/practicals/{panel.id}/stages/{stage.value}", data=wrong)
        assert answer.status_code == 422, stage
        assert panel.practical.version == before
        assert panel.send(stage.value).status_code == 303


def test_a_scanned_section_is_chosen_and_says_what_is_left(panel: Panel) -> None:
    section_id = panel.cast.shop.bench.section_ids[1]
    page = panel.phone.get(f"/practicals/new?section_id={section_id}").text
    assert f'value="{section_id}" selected' in page
    assert "steel, 8.0 µm left" in page


def test_a_scanned_set_up_is_chosen_in_the_practical_that_waits_for_it(panel: Panel) -> None:
    machine, set_up = str(uuid4()), str(uuid4())
    for address, sent in (
        ("machines", {"machine_id": machine, "label": "DA 1", "kind": "free-spinning dual action",
                      "plate_mm": "125", "throw_mm": "15", "vibration_source": "not known"}),
        ("set-ups", {"set_up_id": set_up, "label": "One step", "machine_id": machine,
                     "plate_mm": "125", "pad": "foam", "abrasive": "polish", "dial": "4"}),
    ):  # fmt: skip
        assert panel.phone.post(f"/workshop/{address}", data=sent).status_code == 303
    assert "Work with it now" not in panel.phone.get(f"/set-ups/{set_up}").text
    panel.up_to(Stage.TEST_SPOT)
    address = f"/practicals/{panel.id}/stages/test-spot?set_up={set_up}"
    assert address in panel.phone.get(f"/set-ups/{set_up}").text
    assert f'value="{set_up}" checked' in panel.phone.get(address).text
