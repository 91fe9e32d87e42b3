"""The network drops at the panel: what was entered is kept, sent when it is back, and not doubled."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import pytest
from playwright.sync_api import Browser, Page, expect

from academy.domain.practical.stages import Stage
from tests.browser.hands import sign_in
from tests.browser.looking import access_faults, width_px
from tests.browser.panel_hands import fill_stage
from tests.browser.test_panel import Site, site  # noqa: F401
from tests.support.cast import PASSWORD

ALL_KEPT = """\
async () => {
  const kept = document.querySelector("[data-pages]").dataset;
  if (!navigator.serviceWorker.controller) return false;
  const found = await Promise.all(
    [...kept.pages.split(" "), ...kept.files.trim().split(" ")].map((url) => caches.match(url)));
  return found.every(Boolean);
}
"""


def wait_until_kept(page: Page) -> None:
    """Wait until the worker holds every page ahead and what they are made of."""
    for _ in range(200):
        if page.evaluate(ALL_KEPT):
            return
        page.wait_for_timeout(200)
    raise AssertionError("the pages ahead are not kept")


@pytest.fixture
def phone(browser: Browser, request: pytest.FixtureRequest) -> Iterator[Page]:
    """Open a small phone; ``plain`` is what a browser allows over plain HTTP: no worker."""
    worker: Any = "block" if getattr(request, "param", "") == "plain" else "allow"
    context = browser.new_context(
        viewport={"width": 320, "height": 640}, has_touch=True, service_workers=worker
    )
    yield context.new_page()
    context.close()


def test_half_a_practical_without_a_network(site: Site, phone: Page) -> None:  # noqa: F811
    """Four stages with photographs and 25 readings offline; back online all are there, in order."""
    sign_in(phone, site.address, "jonas", PASSWORD)
    practical_id = site.open(Stage.FIRST_LOOK)
    phone.goto(site.page_of(practical_id))
    phone.wait_for_function("() => navigator.serviceWorker.controller")
    phone.reload()
    wait_until_kept(phone)
    phone.context.set_offline(True)

    phone.get_by_role("link", name="Record it").tap()
    phone.wait_for_url("**/stages/first-look")
    fill_stage(phone, "first-look")
    phone.wait_for_url("**/stages/gauge")
    expect(phone.locator(".kept")).to_contain_text("waiting: 1")
    assert access_faults(phone) == []
    assert width_px(phone) <= 320
    fill_stage(phone, "gauge")
    phone.wait_for_url("**/stages/before")
    for number in range(25):
        phone.keyboard.type(f"11{number % 3}.{number % 7}")
        phone.keyboard.press("Enter")
    phone.get_by_role("button", name="Save the readings").tap()
    phone.wait_for_url("**/stages/set-up")
    fill_stage(phone, "set-up")
    phone.wait_for_url("**/stages/plan")
    expect(phone.locator(".kept")).to_contain_text("waiting: 4")
    assert site.practical(practical_id).version == 0

    phone.context.set_offline(False)
    phone.evaluate("dispatchEvent(new Event('online'))")
    expect(phone.locator(".kept")).to_contain_text("has been sent", timeout=30_000)
    stages = [step.stage for step in site.practical(practical_id).steps]
    assert stages == [Stage.FIRST_LOOK, Stage.GAUGE, Stage.BEFORE, Stage.SET_UP]
    read = site.practical(practical_id).before
    assert read is not None
    assert read.count == 25
    phone.goto(site.page_of(practical_id))
    expect(phone.get_by_role("heading", name="Plan and expected removal")).to_be_visible()


@pytest.mark.parametrize("phone", ["plain"], indirect=True)
def test_over_plain_http_the_form_keeps_what_was_typed(site: Site, phone: Page) -> None:  # noqa: F811
    """No worker there: the step waits in the browser, a draft comes back after a reload."""
    sign_in(phone, site.address, "jonas", PASSWORD)
    practical_id = site.open(Stage.PLAN)
    phone.goto(site.page_of(practical_id, Stage.PLAN))
    phone.get_by_label("What the trainee means to do").fill("one set, wipe, look")
    phone.wait_for_timeout(600)
    phone.reload()
    expect(phone.locator(".kept")).to_contain_text("in the form again")
    said = phone.get_by_label("What the trainee means to do")
    assert said.input_value() == "one set, wipe, look"

    phone.context.set_offline(True)
    phone.get_by_label("Removal the trainee expects").fill("0,7")
    phone.get_by_label("Give or take").fill("0,4")
    phone.locator("form[data-step] > button").tap()
    expect(phone.locator(".kept")).to_contain_text("waiting: 1")
    assert site.practical(practical_id).plan is None

    phone.context.set_offline(False)
    phone.goto(site.page_of(practical_id))
    expect(phone.get_by_role("heading", name="Test spot").first).to_be_visible(timeout=30_000)
    plan = site.practical(practical_id).plan
    assert plan is not None
    assert plan.says == "one set, wipe, look"
    assert len([s for s in site.practical(practical_id).steps if s.stage is Stage.PLAN]) == 1


@pytest.mark.parametrize("phone", ["plain"], indirect=True)
def test_what_the_server_does_not_take_comes_back_with_the_sentence(
    site: Site,  # noqa: F811
    phone: Page,
) -> None:
    sign_in(phone, site.address, "jonas", PASSWORD)
    practical_id = site.open(Stage.COOLED)
    address = site.page_of(practical_id, Stage.COOLED)
    phone.goto(address)
    phone.context.set_offline(True)
    phone.get_by_label("Left to cool for").fill("ten minutes")
    phone.locator("form[data-step] > button").tap()
    expect(phone.locator(".kept")).to_contain_text("waiting: 1")
    phone.context.set_offline(False)
    phone.goto(site.page_of(practical_id))
    expect(phone.locator(".kept")).to_contain_text("Write a whole number", timeout=30_000)
    phone.get_by_role("link", name="Open it").tap()
    phone.wait_for_url("**/stages/cooled")
    waited = phone.get_by_label("Left to cool for")
    expect(waited).to_have_value("ten minutes")
    waited.fill("10")
    phone.locator("form[data-step] > button").tap()
    phone.wait_for_url(site.page_of(practical_id))
    assert site.practical(practical_id).next_stage is Stage.AFTER


def test_signing_out_forgets_the_kept_pages(site: Site, phone: Page) -> None:  # noqa: F811
    sign_in(phone, site.address, "jonas", PASSWORD)
    phone.goto(site.page_of(site.open(Stage.PLAN)))
    phone.wait_for_function("() => navigator.serviceWorker.controller")
    phone.reload()
    wait_until_kept(phone)
    phone.get_by_role("button", name="Sign out").tap()
    phone.wait_for_url("**/sign-in")
    phone.wait_for_function("async () => !(await caches.keys()).length")
