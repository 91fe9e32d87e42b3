"""Every page of the demonstration at three widths, in light and dark: access, width, targets, keyboard."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import UTC, datetime

import pytest
from playwright.sync_api import Page

from academy.content.library import CourseLibrary
from academy.services.demo_accounts import ACCOUNTS
from academy.services.first_start import first_start
from academy.settings import PROJECT, read_settings
from academy.store.database import open_database
from academy.store.schema import upgrade
from academy.web.app import create_app
from tests.browser.conftest import PageFor, served
from tests.browser.hands import sign_in
from tests.browser.looking import access_faults, small_targets, tab_through, width_px

PAGES = {
    "trainee": (
        "/",
        "/course",
        "/course/machines",
        "/course/machines/know-your-machine",
        "/five-questions",
        "/practicals/",
        "/logbook",
    ),
    "supervisor": (
        "/logbooks",
        "/practicals/",
        "/practicals/new",
        "/practicals/bench-sheet/single-step-polishing",
        "/practicals/desk",
        "/practicals/objections",
        "/practicals/references",
        "/practicals/references/new?task=single-step-polishing",
        "/practicals/second-judgements",
        "/workshop/",
        "/workshop/panels/new",
        "/workshop/gauges/new",
        "/workshop/foils/new",
        "/board/",
        "/examinations",
        "/examinations/new",
        "/disputes",
        "/experience",
        "/five-questions",
        "/ratings",
    ),
    "owner": (
        "/board/restrictions",
        "/board/restrictions/new",
        "/questions/quality",
        "/questions/quality/quizzes/working-safely",
        "/questions/ratings",
        "/questions/ratings/new/working-safely",
        "/board/",
        "/people",
        "/people/invitation",
        "/course-check",
        "/nowhere",
    ),
}


@dataclass(frozen=True)
class Demo:
    """The demonstration being served."""

    address: str


@pytest.fixture(scope="module")
def demo(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Demo]:
    instance = tmp_path_factory.mktemp("demo")
    settings = read_settings({"ACADEMY_INSTANCE": str(instance)}, demo=True)
    library = CourseLibrary(PROJECT / "content")
    database = open_database(settings.database_url)
    upgrade(database)
    with database.writing() as session:
        first_start(session, course=library.course, empty=False, now=datetime.now(UTC))
    with served(create_app(settings, database=database, library=library)) as address:
        yield Demo(address)
    database.close()


@pytest.mark.parametrize("who", sorted(PAGES))
@pytest.mark.parametrize(
    ("width", "dark"), [(320, False), (1280, True)], ids=["phone", "dark desk"]
)
def test_pages_are_for_everybody(
    demo: Demo, page_for: PageFor, who: str, width: int, dark: bool
) -> None:
    """WCAG 2.2 A and AA hold, nothing is clipped, and every target is large enough."""
    page = page_for(width, dark=dark, touch=width == 320)
    _sign_in(page, demo, who)
    for address in PAGES[who]:
        page.goto(demo.address + address)
        _check(page, width)


def test_every_lesson_fits_a_small_phone(demo: Demo, page_for: PageFor) -> None:
    """WCAG 2.2, 1.4.10 Reflow: at 320 px no lesson is read by scrolling sideways."""
    page = page_for(320, touch=True)
    _sign_in(page, demo, "trainee")
    course = CourseLibrary(PROJECT / "content").course
    wide = {}
    for module in course.modules:
        for lesson in module.lessons:
            page.goto(f"{demo.address}/course/{lesson.path}")
            if (width := width_px(page)) > 320:
                wide[lesson.path] = width
    assert not wide


@pytest.mark.parametrize("width", [320, 1280])
def test_the_pages_behind_a_list_are_for_everybody(
    demo: Demo, page_for: PageFor, width: int
) -> None:
    """A practical, the evidence behind a cell, and a quiz question."""
    page = page_for(width)
    _sign_in(page, demo, "supervisor")
    page.locator("ul.steps a").first.click()
    _check(page, width)
    page.goto(demo.address + "/board/")
    page.locator(".board td a").last.click()
    _check(page, width)
    trainee = page_for(width)
    _sign_in(trainee, demo, "trainee")
    trainee.goto(demo.address + "/course/pads")
    trainee.get_by_role("button", name="Sit the quiz").click()
    _check(trainee, width)
    trainee.get_by_role("link", name="Hand in").click()
    _check(trainee, width)


@pytest.mark.parametrize("address", ["/course/machines/know-your-machine", "/practicals/"])
def test_the_keyboard_reaches_everything_and_shows_where_it_is(
    demo: Demo, page_for: PageFor, address: str
) -> None:
    page = page_for(1280)
    _sign_in(page, demo, "trainee")
    page.goto(demo.address + address)
    stops = tab_through(page)
    assert len(stops) > 5
    assert [stop.control for stop in stops if stop.outline_px < 2 or stop.covered] == []


def _sign_in(page: Page, demo: Demo, who: str) -> None:
    account = next(a for a in ACCOUNTS if a.sign_in_name == who)
    sign_in(page, demo.address, account.sign_in_name, account.password)


def _check(page: Page, width: int) -> None:
    assert access_faults(page) == [], page.url
    assert width_px(page) <= width, page.url
    assert small_targets(page) == [], page.url
