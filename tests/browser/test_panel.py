"""A whole practical in a real browser: by touch on a small phone, and by keyboard alone."""

from __future__ import annotations

import re
import time
from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import UTC, datetime
from pathlib import Path
from uuid import UUID, uuid4

import pytest
from playwright.sync_api import Page, expect

from academy.content.library import CourseLibrary
from academy.domain.curriculum.tasks import PracticalTask
from academy.domain.practical.record import Practical, record
from academy.domain.practical.stages import PracticalKind, Stage
from academy.domain.practical.steps import Step
from academy.services import practical as service
from academy.settings import PROJECT, read_settings
from academy.store.database import Database, open_database
from academy.store.queries.practicals import stored_practical
from academy.store.schema import upgrade
from academy.web.app import create_app
from tests.browser import keyboard
from tests.browser.conftest import PageFor, served
from tests.browser.hands import sign_in
from tests.browser.looking import access_faults, small_targets, width_px
from tests.browser.panel_hands import a_picture, fill_stage
from tests.support.cast import PASSWORD, Cast, settle
from tests.support.morning import verify_for_the_day
from tests.support.panel_work import good_bodies

SECONDS_TO_PLACE_THE_PROBE = 2.0
KEY_MS = 8  # a gauge on the keyboard's port sends a digit every few milliseconds


@dataclass(frozen=True)
class Site:
    """A shop being served, with its database behind it."""

    address: str
    database: Database
    cast: Cast
    task: PracticalTask

    def open(self, up_to: Stage, **of_the_task: int) -> UUID:
        """Open a practical that waits for a stage; its task may be changed beforehand."""
        task, practical_id = replace(self.task, **of_the_task), uuid4()  # type: ignore[arg-type]
        now, supervisor = datetime.now(UTC), self.cast.shop.supervisor
        new = service.NewPractical(
            practical_id,
            self.cast.shop.trainee.person_id,
            self.cast.shop.bench.section_ids[0],
            self.cast.shop.bench.gauge_id,
            PracticalKind.ASSESSED,
        )
        with self.database.writing() as session:
            service.open_practical(session, actor=supervisor, new=new, task=task, now=now)
            session.flush()
            stored = stored_practical(session, supervisor.shop_id, practical_id)
            assert stored is not None
            grown = stored.practical
            for stage in grown.stages[: grown.stages.index(up_to)]:
                step = Step(uuid4(), stage, good_bodies(task)[stage], now, supervisor.person_id)
                grown = record(grown, step)
                service.add_step(session, supervisor.shop_id, grown, step)
        return practical_id

    def practical(self, practical_id: UUID) -> Practical:
        """Return a practical as it is stored."""
        with self.database.reading() as session:
            stored = stored_practical(session, self.cast.shop.shop_id, practical_id)
        assert stored is not None
        return stored.practical

    def page_of(self, practical_id: UUID, stage: Stage | None = None) -> str:
        """Return an address of a practical."""
        place = f"/stages/{stage.value}" if stage else ""
        return f"{self.address}/practicals/{practical_id}{place}"


@pytest.fixture(scope="module")
def site(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Site]:
    instance: Path = tmp_path_factory.mktemp("panel")
    settings, library = (
        read_settings({"ACADEMY_INSTANCE": str(instance)}),
        CourseLibrary(PROJECT / "content"),
    )
    database = open_database(settings.database_url)
    upgrade(database)
    with database.writing() as session:
        cast = settle(session)
        verify_for_the_day(session, cast.shop, datetime.now(UTC))
    task = library.course.task("single-step-polishing")
    assert task is not None
    with served(create_app(settings, database=database, library=library)) as address:
        yield Site(address, database, cast, task)
    database.close()


def test_a_whole_practical_by_touch_on_a_small_phone(site: Site, page_for: PageFor) -> None:
    """From the first look to the talk at 320 px: every page fits, every target is large."""
    page = page_for(320, touch=True)
    sign_in(page, site.address, "jonas", PASSWORD)
    practical_id = site.open(Stage.FIRST_LOOK)
    page.goto(site.page_of(practical_id))
    for stage in site.practical(practical_id).stages:
        page.get_by_role("link", name="Record it").tap()
        page.wait_for_url(f"**/stages/{stage.value}")
        _fit_for_a_glove(page)
        if stage in {Stage.BEFORE, Stage.AFTER}:
            _tap_readings(page, site.task, "12" if stage is Stage.BEFORE else "11")
            page.get_by_role("button", name="Save the readings").tap()
        else:
            fill_stage(page, stage.value)
        page.wait_for_url(re.compile(r"/practicals/[0-9a-f-]{36}$"))
    _fit_for_a_glove(page)
    expect(page.locator("main")).to_contain_text("Within the limit")
    assert site.practical(practical_id).next_stage is None


def test_a_whole_practical_by_keyboard_alone(site: Site, page_for: PageFor) -> None:
    page = page_for(1280)
    sign_in(page, site.address, "jonas", PASSWORD)
    practical_id = site.open(Stage.FIRST_LOOK)
    page.goto(site.page_of(practical_id))
    for stage in site.practical(practical_id).stages:
        keyboard.press(page, ".next-step a")
        page.wait_for_url(f"**/stages/{stage.value}")
        _fill_by_keyboard(page, stage, site.task)
        page.wait_for_url(re.compile(r"/practicals/[0-9a-f-]{36}$"))
    assert site.practical(practical_id).next_stage is None
    expect(page.locator("main")).to_contain_text("Within the limit")


def test_forty_readings_from_a_gauge_that_types_take_under_two_minutes(
    site: Site, page_for: PageFor
) -> None:
    """Digits and Enter, key by key; placing the probe is counted at two seconds a reading."""
    page = page_for(320, touch=True)
    sign_in(page, site.address, "jonas", PASSWORD)
    practical_id = site.open(Stage.BEFORE, readings_per_spot=8)
    page.goto(site.page_of(practical_id, Stage.BEFORE))
    began = time.monotonic()
    for number in range(40):
        page.keyboard.type(f"11{number % 3}.{number % 7}", delay=KEY_MS)
        page.keyboard.press("Enter")
    expect(page.get_by_role("button", name="Save the readings")).to_be_focused()
    page.keyboard.press("Enter")
    page.wait_for_url(re.compile(r"/practicals/[0-9a-f-]{36}$"))
    took_s = time.monotonic() - began
    read = site.practical(practical_id).before
    assert read is not None
    assert read.count == 40
    assert str(read.spots[0].readings_um[1]) == "111.1"
    assert took_s + 40 * SECONDS_TO_PLACE_THE_PROBE < 120


def test_forty_readings_by_three_taps_each(site: Site, page_for: PageFor) -> None:
    """The leading digits stay, the spot moves on by itself, and undo takes one back."""
    page = page_for(320, touch=True)
    sign_in(page, site.address, "jonas", PASSWORD)
    practical_id = site.open(Stage.BEFORE, readings_per_spot=8)
    page.goto(site.page_of(practical_id, Stage.BEFORE))
    taps = 0
    for number in range(40):
        for digit in f"{98 + number % 4:03d}"[-3:]:  # 9.8, 9.9, 10.0, 10.1: past a round hundred
            page.get_by_role("button", name=digit, exact=True).tap()
            taps += 1
    assert taps == 120
    page.get_by_role("button", name="Undo").tap()
    for digit in "099":
        page.get_by_role("button", name=digit, exact=True).tap()
    page.get_by_role("button", name="Save the readings").tap()
    page.wait_for_url(re.compile(r"/practicals/[0-9a-f-]{36}$"))
    read = site.practical(practical_id).before
    assert read is not None
    assert [str(value) for value in read.spots[0].readings_um[:4]] == [
        "109.8", "109.9", "110.0", "110.1",
    ]  # fmt: skip
    assert str(read.spots[4].readings_um[7]) == "109.9"


@pytest.mark.parametrize(
    ("digits", "decimals", "usual", "reading"),
    [
        ("124", 1, 110.0, "112.4"),
        ("998", 1, 101.2, "99.8"),
        ("012", 1, 99.0, "101.2"),
        ("853", 1, 110.0, "85.3"),
        ("12", 0, 110.0, "112"),
        ("98", 0, 103.0, "98"),
        ("003", 1, 12.0, "0.3"),
        ("000", 1, 12.0, "100.0"),
        ("240", 2, 112.0, "112.40"),
    ],
)
def test_the_reading_meant_is_the_nearest_that_ends_in_the_digits_tapped(
    site: Site, page_for: PageFor, digits: str, decimals: int, usual: float, reading: str
) -> None:
    page = page_for(320, touch=True)
    page.goto(f"{site.address}/sign-in")
    meant = page.evaluate(
        "async ([digits, decimals, usual]) =>"
        " (await import('/static/js/readings.js')).nearest(digits, decimals, usual)",
        [digits, decimals, usual],
    )
    assert meant == reading


def test_a_column_pasted_into_a_box_fills_the_boxes(site: Site, page_for: PageFor) -> None:
    page = page_for(1280)
    sign_in(page, site.address, "jonas", PASSWORD)
    practical_id = site.open(Stage.BEFORE)
    page.goto(site.page_of(practical_id, Stage.BEFORE))
    column = "\n".join(f"11{number % 3},{number % 7}" for number in range(25))
    page.evaluate(
        "text => { const data = new DataTransfer(); data.setData('text', text);"
        " document.activeElement.dispatchEvent("
        "   new ClipboardEvent('paste', {clipboardData: data, bubbles: true, cancelable: true})) }",
        column,
    )
    expect(page.locator("main")).to_contain_text("25 readings are filled in")
    assert page.locator("#reading-5-5").input_value() == "110,3"
    page.get_by_role("button", name="Save the readings").click()
    page.wait_for_url(re.compile(r"/practicals/[0-9a-f-]{36}$"))
    read = site.practical(practical_id).before
    assert read is not None
    assert read.count == 25


def test_the_timer_outlives_a_reload_and_writes_the_time(site: Site, page_for: PageFor) -> None:
    page = page_for(320, touch=True)
    page.clock.install()
    sign_in(page, site.address, "jonas", PASSWORD)
    practical_id = site.open(Stage.WORKING)
    page.goto(site.page_of(practical_id, Stage.WORKING))
    page.get_by_role("button", name="Start").tap()
    page.clock.fast_forward(70_000)
    page.reload()
    page.clock.fast_forward(20_000)
    page.get_by_role("button", name="Stop the time").tap()
    minutes, seconds = page.locator("#minutes"), page.locator("#seconds")
    total = 60 * int(minutes.input_value()) + int(seconds.input_value())
    assert 90 <= total <= 100


def test_stopping_is_at_hand_on_every_stage(site: Site, page_for: PageFor) -> None:
    """Large, in view without scrolling wherever one is on the page, and it ends the practical."""
    page = page_for(320, touch=True)
    sign_in(page, site.address, "jonas", PASSWORD)
    for stage in site.practical(site.open(Stage.FIRST_LOOK)).stages:
        practical_id = site.open(stage)
        page.goto(site.page_of(practical_id, stage))
        page.evaluate("scrollTo(0, document.body.scrollHeight)")
        stop = page.get_by_role("link", name="Stop for safety")
        expect(stop).to_be_in_viewport(ratio=1)
        box = stop.bounding_box()
        assert box is not None
        assert box["height"] >= 56
    stop.tap()
    page.wait_for_url("**/stop")
    _fit_for_a_glove(page)
    page.locator("input[name=reason][value=heat]").check()
    page.get_by_label("In a few words").fill("60 °C at the edge")
    page.get_by_role("button", name="Stop and end the practical").tap()
    expect(page.locator("main")).to_contain_text("counts for nobody and against nobody")


def _fit_for_a_glove(page: Page) -> None:
    assert access_faults(page) == [], page.url
    assert width_px(page) <= 320, page.url
    assert small_targets(page, 44) == [], page.url


def _tap_readings(page: Page, task: PracticalTask, tens: str) -> None:
    """Tap three digits a reading: tens, ones and the decimal."""
    for number in range(task.spots * task.readings_per_spot):
        for digit in f"{tens}{number % 3 + 3}":
            page.get_by_role("button", name=digit, exact=True).tap()


WRITTEN: dict[Stage, dict[str, str]] = {
    Stage.FIRST_LOOK: {"#light": "point light, half a metre", "#sees": "swirl marks all over"},
    Stage.PLAN: {"#plan": "one set, wipe", "#expected_um": "0,7", "#give_or_take_um": "0,4"},
    Stage.TRAINEE_MARKS: {"#sees": "two short marks"},
    Stage.INSPECTION: {"#supervisor_sees": "the same two"},
    Stage.COOLED: {"#waited_min": "10"},
    Stage.TALK: {"#went_well": "flat pad", "#change_next": "slower arm"},
}


def _fill_by_keyboard(page: Page, stage: Stage, task: PracticalTask) -> None:
    if stage in {Stage.BEFORE, Stage.AFTER}:
        _read_by_keyboard(page, 112 if stage is Stage.BEFORE else 111.4, task)
        return
    for selector, text in WRITTEN.get(stage, {}).items():
        keyboard.write(page, selector, text)
    if stage is Stage.SET_UP:
        keyboard.tick(page, "#all_present")
        keyboard.write(page, "#certified_um", "125")
        keyboard.write(page, "#foil_reading_um", "125,3")
    if stage in {Stage.FIRST_LOOK, Stage.SET_UP}:
        keyboard.hand_over(page, "#photograph", a_picture(len(stage)))
    if stage in {Stage.TEST_SPOT, Stage.WORKING}:
        _work_by_keyboard(page, stage)
    if stage in {Stage.TRAINEE_MARKS, Stage.INSPECTION}:
        keyboard.choose(page, "against", "the same")
    if stage in {Stage.CRITERIA, Stage.TALK}:
        _end_by_keyboard(page, stage, task)
    keyboard.press(page, "form[data-step] > button")


def _end_by_keyboard(page: Page, stage: Stage, task: PracticalTask) -> None:
    if stage is Stage.TALK:
        keyboard.reach(page, "#next_drill")
        page.keyboard.press("ArrowDown")
        return
    for criterion in task.criteria:
        if not criterion.measured:
            keyboard.choose(page, f"criterion-{criterion.id}", "met")


def _read_by_keyboard(page: Page, film_um: float, task: PracticalTask) -> None:
    """Type reading after reading; Enter moves on, and at the end it saves."""
    keyboard.reach(page, "#reading-1-1")
    for number in range(task.spots * task.readings_per_spot):
        page.keyboard.type(f"{film_um + number % 3 / 10:.1f}")
        page.keyboard.press("Enter")
    with page.expect_navigation():
        page.keyboard.press("Enter")


def _work_by_keyboard(page: Page, stage: Stage) -> None:
    if stage is Stage.TEST_SPOT:
        keyboard.choose(page, "set_up", "typed")
        for name, text in (
            ("machine", "free-spinning 15 mm"),
            ("pad", "polishing foam"),
            ("pad_mm", "150"),
            ("abrasive", "medium polish"),
            ("dial", "4"),
        ):
            keyboard.write(page, f"#{name}", text)
    else:
        keyboard.choose(page, "set_up", "same")
    keyboard.write(page, "#passes", "4")
    keyboard.write(page, "#minutes", "5")
    keyboard.choose(page, "pressure", "light")
    keyboard.choose(page, "help_given", "none")
    if stage is Stage.TEST_SPOT:
        keyboard.write(page, "#shows", "the wash marks are gone")
        keyboard.choose(page, "enough", "yes")
