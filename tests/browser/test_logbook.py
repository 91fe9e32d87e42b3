"""The logbook in a browser: one tap for a drill, the time at its machine, and the day it adds up to."""

from __future__ import annotations

import re
from collections.abc import Iterator
from datetime import UTC, datetime

import pytest
from playwright.sync_api import expect

from academy.content.library import CourseLibrary
from academy.services.demo_accounts import ACCOUNTS
from academy.services.first_start import first_start
from academy.settings import PROJECT, read_settings
from academy.store.database import open_database
from academy.store.schema import upgrade
from academy.web.app import create_app
from tests.browser.conftest import PageFor, served
from tests.browser.hands import sign_in
from tests.browser.looking import access_faults, small_targets, width_px


@pytest.fixture(scope="module")
def demo(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    instance = tmp_path_factory.mktemp("logbook")
    settings = read_settings({"ACADEMY_INSTANCE": str(instance)}, demo=True)
    library = CourseLibrary(PROJECT / "content")
    database = open_database(settings.database_url)
    upgrade(database)
    with database.writing() as session:
        first_start(session, course=library.course, empty=False, now=datetime.now(UTC))
    with served(create_app(settings, database=database, library=library)) as address:
        yield address
    database.close()


def password(who: str) -> str:
    return next(a.password for a in ACCOUNTS if a.sign_in_name == who)


def test_a_trainee_logs_a_drill_by_one_tap_and_sees_the_day_it_adds_to(
    demo: str, page_for: PageFor
) -> None:
    page = page_for(320, touch=True)
    sign_in(page, demo, "trainee", password("trainee"))
    page.get_by_role("link", name="Logbook", exact=True).click()
    page.get_by_role("link", name="Log a drill").click()
    page.get_by_role("button", name=re.compile("Arm speed against a timer")).tap()
    expect(page.get_by_text("How long did the machine run?")).to_be_visible()
    page.locator("#machine_id").select_option(label="Dual action 1")
    page.get_by_label("How long it ran in the hands").fill("12")
    page.get_by_role("button", name="Add the time").tap()
    expect(page.get_by_role("heading", level=1)).to_contain_text("Day at machines: Ida Marlow")
    expect(page.get_by_text("Recorded part only: below the action value")).to_be_visible()
    page.get_by_role("button", name="No, none").tap()
    # 2 · 4.5² · 0.2 h = 8.1 points; 3 and 6 m/s² at the ends: 3.6 and 14.4
    expect(page.get_by_text("8, between 4 and 14")).to_be_visible()
    expect(page.get_by_text("room for another step")).to_be_visible()
    assert access_faults(page) == []
    assert width_px(page) <= 320
    assert small_targets(page) == []


@pytest.mark.parametrize(("width", "dark"), [(320, False), (1280, True)])
def test_a_trainees_logbook_is_for_everybody_to_read(
    demo: str, page_for: PageFor, width: int, dark: bool
) -> None:
    page = page_for(width, dark=dark, touch=width == 320)
    sign_in(page, demo, "supervisor", password("supervisor"))
    for name in ("Lena Brandt", "Noah Winter"):
        page.goto(f"{demo}/logbooks")
        page.get_by_role("link", name=name, exact=True).click()
        own = page.url
        for path in ("", "/day", "/drills", "/entries/new"):
            page.goto(own + path)
            assert access_faults(page) == [], page.url
            assert width_px(page) <= width, page.url
            assert small_targets(page) == [], page.url


def test_a_supervisor_confirms_what_waits(demo: str, page_for: PageFor) -> None:
    page = page_for(320, touch=True)
    sign_in(page, demo, "supervisor", password("supervisor"))
    page.goto(f"{demo}/logbooks")
    page.get_by_role("link", name="Lena Brandt: Inspect a panel").click()
    page.get_by_role("button", name="Confirm").tap()
    expect(page.get_by_text("assisted, confirmed by Tom Reyes")).to_be_visible()
