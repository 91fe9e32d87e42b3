"""An owner finds the question to mend, has it rated again, and takes the ratings over."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, datetime

import pytest
from playwright.sync_api import Page, expect

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
def address(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    """Serve a demonstration of this file's own: a round taken over stays so."""
    settings = read_settings({"ACADEMY_INSTANCE": str(tmp_path_factory.mktemp("demo"))}, demo=True)
    library = CourseLibrary(PROJECT / "content")
    database = open_database(settings.database_url)
    upgrade(database)
    with database.writing() as session:
        first_start(session, course=library.course, empty=False, now=datetime.now(UTC))
    with served(create_app(settings, database=database, library=library)) as served_at:
        yield served_at
    database.close()


def test_from_the_list_to_the_question_and_off_the_list(address: str, page_for: PageFor) -> None:
    page = page_for(320, touch=True)
    _sign_in(page, address, "owner")
    page.get_by_role("link", name="Question quality").click()
    expect(page.get_by_text("These answers are invented")).to_be_visible()
    first = page.locator(".to-mend h3 a").first
    name = first.inner_text()
    expect(page.locator(".to-mend > li").first).to_contain_text("The key may be wrong")
    first.click()
    expect(page.get_by_role("heading", name=f"Question {name}")).to_be_visible()
    expect(page.get_by_role("img", name="Who takes which option")).to_be_visible()
    _for_everybody(page, 320)
    page.get_by_label("Dismissed").check()
    page.get_by_label("Why").fill("read it again with two people: it is right")
    page.get_by_role("button", name="Keep this").click()
    expect(page.locator(".to-mend h3 a").first).not_to_have_text(name)
    expect(page.get_by_text("dismissed by Nora Quill")).to_be_visible()


def test_a_supervisor_rates_alone_then_sees_the_spread_and_the_owner_takes_it_over(
    address: str, page_for: PageFor
) -> None:
    supervisor, owner = page_for(320, touch=True), page_for(1280, dark=True)
    _sign_in(supervisor, address, "supervisor")
    supervisor.get_by_role("link", name="Ratings", exact=True).click()
    supervisor.locator("ul.listing a").first.click()
    _for_everybody(supervisor, 320)
    expect(supervisor.get_by_text("The author:")).to_have_count(0)
    boxes = supervisor.locator('input[name^="rating-"]')
    for number in range(boxes.count()):
        boxes.nth(number).fill("64")
    supervisor.get_by_role("button", name="Keep my ratings").click()
    expect(supervisor.get_by_text("All have rated")).to_be_visible()
    expect(supervisor.get_by_text("The author:").first).to_be_visible()
    _for_everybody(supervisor, 320)
    _sign_in(owner, address, "owner")
    owner.goto(f"{address}/questions/ratings")
    owner.locator("ul.listing a").first.click()
    expect(owner.get_by_text("From one rater nobody can say")).to_be_visible()
    _for_everybody(owner, 1280)
    owner.get_by_role("button", name="Take the ratings over").click()
    expect(owner.get_by_text("Forms drawn from now on use these ratings")).to_be_visible()


def _sign_in(page: Page, address: str, who: str) -> None:
    account = next(a for a in ACCOUNTS if a.sign_in_name == who)
    sign_in(page, address, account.sign_in_name, account.password)


def _for_everybody(page: Page, width: int) -> None:
    assert access_faults(page) == [], page.url
    assert width_px(page) <= width, page.url
    assert small_targets(page) == [], page.url
