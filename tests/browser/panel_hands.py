"""Hands at the panel: one stage after another is filled in as a supervisor would."""

from __future__ import annotations

import io
from collections.abc import Callable

from PIL import Image
from playwright.sync_api import FilePayload, Page

PLAIN: dict[str, dict[str, str]] = {
    "first-look": {
        "Light and distance": "point light, half a metre",
        "What is on it, and what will stay": "swirl marks all over",
    },
    "plan": {"What the trainee means to do": "one set with foam, wipe, look"},
    "trainee-marks": {"What the trainee sees": "two short marks"},
    "inspection": {"What you see": "the same two marks"},
    "cooled": {"Left to cool for": "10"},
    "talk": {"What went well": "flat pad", "The one thing to change": "slower arm"},
}


def a_picture(shade: int = 40) -> FilePayload:
    """Return a small photograph, as a phone sends it."""
    out = io.BytesIO()
    Image.new("RGB", (320, 240), (shade, shade, shade)).save(out, "JPEG")
    return {"name": "photograph.jpg", "mimeType": "image/jpeg", "buffer": out.getvalue()}


def fill_stage(page: Page, stage: str) -> None:
    """Fill in a stage that is not readings, and save it."""
    for label, text in PLAIN.get(stage, {}).items():
        page.get_by_label(label).fill(text)
    further: Callable[[Page], None] | None = {
        "first-look": _photograph,
        "set-up": _set_up,
        "plan": _expect,
        "test-spot": _test_spot,
        "working": _work,
        "trainee-marks": _compare,
        "inspection": _compare,
        "criteria": _judge,
        "talk": _next_drill,
    }.get(stage)
    if further is not None:
        further(page)
    page.locator("form[data-step] button").last.click()


def _next_drill(page: Page) -> None:
    page.get_by_label("The next drill").select_option(index=1)


def _photograph(page: Page) -> None:
    page.locator("input[type=file]").set_input_files(a_picture())


def _set_up(page: Page) -> None:
    page.get_by_label("All of it is there").check()
    if page.get_by_label("The foil's certified value").count():
        page.get_by_label("The foil's certified value").fill("125")
        page.get_by_label("The gauge on the foil, now").fill("125,4")
    if page.locator("input[type=file]").count():
        page.locator("input[type=file]").set_input_files(a_picture(90))


def _expect(page: Page) -> None:
    if page.get_by_label("Give or take").count():
        page.get_by_label("Removal the trainee expects").fill("0,7")
        page.get_by_label("Give or take").fill("0.4")


def _test_spot(page: Page) -> None:
    _work(page)
    page.get_by_label("What it shows").fill("the wash marks are gone")
    page.locator("input[name=enough][value=yes]").check()


def _work(page: Page) -> None:
    known = page.locator("input[name=set_up]:not([value=typed])")
    if known.count():  # the same again, or the first of the saved ones: one tap
        known.first.check()
    else:
        page.locator("input[name=set_up][value=typed]").check()
        for name, text in (
            ("machine", "free-spinning 15 mm"),
            ("pad", "polishing foam"),
            ("pad_mm", "150"),
            ("abrasive", "medium polish"),
            ("dial", "4"),
        ):
            page.locator(f"input[name={name}]").fill(text)
    page.get_by_label("Passes").fill("4")
    page.get_by_label("Minutes").fill("4")
    page.locator("input[name=pressure][value=light]").check()
    page.locator("input[name=help_given][value=none]").check()


def _compare(page: Page) -> None:
    page.locator("input[name=against][value='the same']").check()


def _judge(page: Page) -> None:
    for box in page.locator("input[value=met]").all():
        box.check()
