"""The workshop on a phone: a gauge is verified, a panel's map and its label are opened."""

from __future__ import annotations

from collections.abc import Iterator
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
from tests.browser.looking import access_faults, small_targets, width_px


@pytest.fixture(scope="module")
def demo(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    settings = read_settings({"ACADEMY_INSTANCE": str(tmp_path_factory.mktemp("demo"))}, demo=True)
    library = CourseLibrary(PROJECT / "content")
    database = open_database(settings.database_url)
    upgrade(database)
    with database.writing() as session:
        first_start(session, course=library.course, empty=False, now=datetime.now(UTC))
    with served(create_app(settings, database=database, library=library)) as address:
        yield address
    database.close()


def fit_for_a_glove(page: Page) -> None:
    """WCAG 2.2 A and AA hold, nothing is clipped at 320 px, every target is large enough."""
    assert access_faults(page) == [], page.url
    assert width_px(page) <= 320, page.url
    assert small_targets(page) == [], page.url


def test_a_supervisor_verifies_a_gauge_on_a_phone(demo: str, page_for: PageFor) -> None:
    page = page_for(320, touch=True)
    account = next(one for one in ACCOUNTS if one.says == "supervisor")
    sign_in(page, demo, account.sign_in_name, account.password)
    page.goto(f"{demo}/workshop/")
    fit_for_a_glove(page)
    page.get_by_role("link", name="Bench gauge 1").click()
    fit_for_a_glove(page)
    page.get_by_role("link", name="Verify Bench gauge 1, magnetic").click()
    fit_for_a_glove(page)
    page.get_by_label("Bare metal (zero)").fill("0.1 0.0 0.1")
    page.get_by_label("Foil 49.8").fill("58 58 58")
    page.get_by_role("button", name="Judge the gauge").click()
    fit_for_a_glove(page)
    assert "failed: nobody reads with it until it passes" in page.content()
    page.goto(f"{demo}/workshop/")
    assert page.get_by_role("heading", name="Before anybody reads with a gauge").is_visible()
    page.get_by_role("link", name="Bonnet 7", exact=True).click()
    fit_for_a_glove(page)
    page.get_by_role("link", name="Label to print").click()
    fit_for_a_glove(page)
    for place in ("panels", "gauges", "foils", "machines", "set-ups", "products"):
        page.goto(f"{demo}/workshop/{place}/new")
        fit_for_a_glove(page)
