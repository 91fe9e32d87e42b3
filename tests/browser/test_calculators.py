"""The calculators in a browser, on a phone and at a desk, and the box in a lesson."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Page

from academy.calculations.offered import OFFERED
from academy.content.library import CourseLibrary
from academy.settings import read_settings
from academy.store.database import open_database
from academy.web.app import create_app
from tests.browser.conftest import PageFor, served
from tests.browser.hands import sign_in
from tests.browser.looking import access_faults, small_targets, tab_through, width_px
from tests.content.course_tree import LESSON, CourseTree
from tests.support.cast import PASSWORD, settle
from tests.support.databases import copy_sqlite

PHONE_PX, DESK_PX = 320, 1280
# One of each kind of form: choices, a list, spots, parts, many results.
AT_THE_DESK = ("machine-speed", "statistics", "removal", "removal-ratio", "may-cut-again")
BOXES = """```calculator machine-speed
kind: dual-action
pad_mm: 150
throw_mm: 15
orbits_per_min: 4200
```

```calculator removal
spots: [{before_um: [118.2, 118.4], after_um: [116.3, 116.5]}, {before_um: 117, after_um: 115}]
```
"""


@pytest.fixture(scope="module")
def site(laid_sqlite: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    """Serve a shop with its people in it, and a lesson with calculators in it."""
    instance = tmp_path_factory.mktemp("calculators")
    database = open_database(copy_sqlite(laid_sqlite, instance))
    with database.writing() as session:
        settle(session)
    settings = read_settings({"ACADEMY_INSTANCE": str(instance)})
    tree = CourseTree(tmp_path_factory.mktemp("course"))
    tree.change(
        LESSON, "A [haze](term:haze) comes from dry work.", ""
    )  # the box is looked at alone
    tree.change(LESSON, "```check", f"{BOXES}\n```check")
    library = CourseLibrary(tree.root)
    with served(create_app(settings, database=database, library=library)) as address:
        yield address
    database.close()


def reader_at(site: str, page_for: PageFor, width: int, *, dark: bool = False) -> Page:
    page = page_for(width, dark=dark, touch=width == PHONE_PX)
    sign_in(page, site, "mira", PASSWORD)
    return page


def check(page: Page, width: int) -> None:
    assert access_faults(page) == [], page.url
    assert width_px(page) <= width, page.url
    assert small_targets(page) == [], page.url
    assert clipped(page) == [], page.url


def clipped(page: Page) -> list[str]:
    """Return what is cut off because it is wider than its box."""
    found: list[str] = page.evaluate(
        """() => [...document.querySelectorAll("main *")]
             .filter(one => !one.closest("svg, .heard-only, .print-head, thead"))
             .filter(one => one.clientWidth && one.scrollWidth > one.clientWidth + 1)
             .filter(one => ["hidden", "clip"].includes(getComputedStyle(one).overflowX))
             .map(one => one.outerHTML.slice(0, 120))"""
    )
    return found


@pytest.mark.parametrize(
    ("width", "names"), [(PHONE_PX, tuple(OFFERED)), (DESK_PX, AT_THE_DESK)], ids=["phone", "desk"]
)
def test_every_calculator_with_its_result_is_for_everybody(
    site: str, page_for: PageFor, width: int, names: tuple[str, ...]
) -> None:
    page = reader_at(site, page_for, width, dark=width == DESK_PX)
    page.goto(f"{site}/calculators/")
    check(page, width)
    for name in names:
        page.goto(f"{site}/calculators/{name}")
        page.get_by_role("link", name="Fill in an example").click()
        page.get_by_role("heading", name="Result").wait_for()
        page.get_by_text("Unrounded, and from the command line").click()
        check(page, width)


@pytest.mark.parametrize("width", [PHONE_PX, DESK_PX])
def test_a_refused_form_is_for_everybody(site: str, page_for: PageFor, width: int) -> None:
    page = reader_at(site, page_for, width)
    page.goto(f"{site}/calculators/removal?spots-1-before_um=118 x&spots-2-after_um=-4&units=us")
    assert page.get_by_role("alert").is_visible()
    check(page, width)


def test_a_person_types_computes_and_sees_the_result_at_once(site: str, page_for: PageFor) -> None:
    page = reader_at(site, page_for, PHONE_PX)
    page.goto(f"{site}/calculators/late-reading")
    page.get_by_label("Time it was heated").fill("20,5")
    page.get_by_label("Time until the reading").fill("15")
    page.get_by_role("button", name="Compute").click()
    result = page.get_by_role("heading", name="Result")
    result.wait_for()
    top = result.bounding_box()
    assert top is not None
    assert 0 <= top["y"] < 640
    assert page.get_by_label("Time it was heated").input_value() == "20,5"


def test_more_rows_keep_what_was_typed(site: str, page_for: PageFor) -> None:
    page = reader_at(site, page_for, PHONE_PX)
    page.goto(f"{site}/calculators/vibration")
    assert page.get_by_role("group", name=re.compile("^Machine")).count() == 3
    page.get_by_label("Vibration of the machine").first.fill("5")
    page.get_by_role("button", name="More rows").click()
    page.get_by_role("group", name="Machine 6").wait_for()
    assert page.get_by_label("Vibration of the machine").first.input_value() == "5"
    assert page.get_by_role("heading", name="Result").count() == 0


def test_the_other_units_carry_the_inputs_over(site: str, page_for: PageFor) -> None:
    page = reader_at(site, page_for, DESK_PX)
    page.goto(f"{site}/calculators/contact-pressure?force_n=40&pad_mm=152.4")
    page.get_by_role("link", name="US units").click()
    pad = page.get_by_label("Diameter of the pad")
    assert pad.input_value() == "6"
    pad.fill("3")
    page.get_by_role("button", name="Compute").click()
    page.wait_for_url("**/contact-pressure?units=us*")
    # 40 N are 8.992 lbf, on pi x 1.5 in x 1.5 in
    assert page.get_by_text("1.272 psi").is_visible()


def test_the_keyboard_reaches_every_control(site: str, page_for: PageFor) -> None:
    page = reader_at(site, page_for, DESK_PX)
    page.goto(f"{site}/calculators/machine-speed?kind=rotary&pad_mm=150&rpm=1200")
    stops = tab_through(page)
    assert len(stops) > 12
    assert [stop.control for stop in stops if stop.outline_px < 2 or stop.covered] == []


@pytest.mark.parametrize("width", [PHONE_PX, DESK_PX])
def test_a_box_in_a_lesson_is_for_everybody(site: str, page_for: PageFor, width: int) -> None:
    page = reader_at(site, page_for, width, dark=width == PHONE_PX)
    page.goto(f"{site}/course/safety/before-you-start")
    assert page.get_by_role("form", name="Speed of the pad's face").is_visible()
    check(page, width)


def test_a_tap_on_a_box_leads_to_the_page_that_computes_it(site: str, page_for: PageFor) -> None:
    page = reader_at(site, page_for, PHONE_PX)
    page.goto(f"{site}/course/safety/before-you-start")
    box = page.get_by_role("form", name="Speed of the pad's face")
    assert "3.3\N{NO-BREAK SPACE}m/s" in box.inner_text()
    box.get_by_label("Throw").fill("21")
    box.get_by_role("button", name="Compute with your numbers").click()
    page.get_by_role("heading", name="Result").wait_for()
    assert page.get_by_label("Throw").input_value() == "21"
    # pi x 0.021 m x 70 a second
    assert page.get_by_text("4.618 m/s").first.is_visible()
