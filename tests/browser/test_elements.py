"""The page that shows every element in every state, seen in a browser."""

from __future__ import annotations

from urllib.parse import quote

import pytest
from playwright.sync_api import Browser, Page

from tests.browser.conftest import PageFor
from tests.browser.looking import (
    access_faults,
    controls_in_order,
    policy_refusals,
    small_targets,
    tab_through,
    width_px,
)

PHONE_PX = 320


def opened(page: Page, address: str) -> Page:
    answer = page.goto(f"{address}/elements")
    assert answer is not None
    assert answer.status == 200
    return page


@pytest.mark.parametrize("width", [PHONE_PX, 1280])
@pytest.mark.parametrize("dark", [False, True], ids=["in the light", "in the dark"])
def test_every_element_meets_the_rules_of_access(
    page_for: PageFor, demonstration: str, width: int, dark: bool
) -> None:
    page = opened(page_for(width, dark=dark, touch=width == PHONE_PX), demonstration)
    assert access_faults(page) == []


def test_the_checks_find_a_page_that_breaks_the_rules(page_for: PageFor) -> None:
    page = page_for(PHONE_PX)
    bad = '<html><title>x</title><input size=2><p style="width:900px;color:#bbb">pale</p><button>x</button>'
    page.goto(f"data:text/html,{quote(bad)}")
    rules = {fault.split(":")[0] for fault in access_faults(page)}
    assert {"color-contrast", "html-has-lang", "label"} <= rules
    assert len(small_targets(page)) == 2
    assert width_px(page) > PHONE_PX


def test_a_style_written_into_the_page_is_refused_and_heard(
    browser: Browser, demonstration: str
) -> None:
    page = browser.new_page()
    heard = policy_refusals(page)
    opened(page, demonstration)
    assert heard == []
    page.evaluate("document.body.insertAdjacentHTML('beforeend', '<p style=\"color: red\">x</p>')")
    page.wait_for_timeout(100)
    assert len(heard) == 1
    page.close()


@pytest.mark.parametrize("width", [PHONE_PX, 768, 1280])
def test_nothing_has_to_be_scrolled_sideways(
    page_for: PageFor, demonstration: str, width: int
) -> None:
    page = opened(page_for(width), demonstration)
    assert width_px(page) <= width


def test_text_set_wider_apart_still_fits_a_phone(page_for: PageFor, demonstration: str) -> None:
    page = opened(page_for(PHONE_PX), demonstration)
    page.evaluate(
        """() => {
          const sheet = new CSSStyleSheet();
          sheet.replaceSync(`* { line-height: 1.5 !important; letter-spacing: 0.12em !important;
            word-spacing: 0.16em !important } p { margin-block-end: 2em !important }`);
          document.adoptedStyleSheets = [sheet];
        }"""
    )
    assert width_px(page) <= PHONE_PX


@pytest.mark.parametrize("width", [PHONE_PX, 1280])
def test_every_control_is_large_enough_for_a_thumb(
    page_for: PageFor, demonstration: str, width: int
) -> None:
    page = opened(page_for(width, touch=width == PHONE_PX), demonstration)
    assert small_targets(page) == []


def test_targets_are_larger_in_the_workshop(page_for: PageFor, demonstration: str) -> None:
    page = opened(page_for(PHONE_PX, touch=True), demonstration)
    page.evaluate("document.body.classList.add('workshop')")
    assert small_targets(page, 48) == []
    assert width_px(page) <= PHONE_PX


@pytest.mark.parametrize("width", [PHONE_PX, 1280])
def test_the_keyboard_reaches_every_control_in_order_and_shows_where_it_is(
    page_for: PageFor, demonstration: str, width: int
) -> None:
    page = opened(page_for(width), demonstration)
    stops = tab_through(page)
    assert [stop.control for stop in stops] == controls_in_order(page)
    assert [stop.control for stop in stops if stop.outline_px < 2] == []
    assert [stop.control for stop in stops if stop.covered] == []


def test_a_refused_form_names_each_fault_and_keeps_what_was_typed(
    page_for: PageFor, demonstration: str
) -> None:
    page = opened(page_for(), demonstration)
    after = page.get_by_role("textbox", name="After")
    assert after.input_value() == "1o4"
    assert after.get_attribute("aria-invalid") == "true"
    described = (after.get_attribute("aria-describedby") or "").split()
    said = " ".join(page.locator(f"#{name}").inner_text() for name in described)
    assert "is not a number" in said
    assert "20 to 2,000 µm" in said
    page.get_by_role("link", name="After: “1o4” is not a number").click()
    assert page.evaluate("document.activeElement.id") == "after" or page.url.endswith("#after")


def test_tables_shown_as_cards_are_still_tables_to_a_screen_reader(
    page_for: PageFor, demonstration: str
) -> None:
    page = opened(page_for(PHONE_PX), demonstration)
    board = page.get_by_role("table", name="Who may do what today")
    assert board.get_by_role("row").count() == 4
    assert board.get_by_role("rowheader", name="Ida Marlow").count() == 1
    assert board.get_by_role("columnheader", name="Compounding").count() == 1


def test_the_printed_page_leaves_out_what_paper_cannot_do(
    page_for: PageFor, demonstration: str
) -> None:
    page = opened(page_for(), demonstration)
    page.emulate_media(media="print")
    assert not page.get_by_role("navigation", name="Main").is_visible()
    assert not page.get_by_role("button", name="Close the record").is_visible()
    assert page.get_by_text("Printed: 25 November 2026").is_visible()
    assert page.get_by_text(
        "One spot can be over the limit while the mean is under it."
    ).is_visible()


@pytest.mark.parametrize(("paper", "width_mm"), [("A4", 210 - 2 * 14), ("Letter", 215.9 - 2 * 14)])
def test_the_printed_page_fits_between_the_margins(
    page_for: PageFor, demonstration: str, paper: str, width_mm: float
) -> None:
    width = int(width_mm / 25.4 * 96)  # CSS: an inch is 96 px
    page = opened(page_for(width), demonstration)
    page.emulate_media(media="print")
    assert width_px(page) <= width, paper


def test_a_figure_is_coloured_for_the_dark(page_for: PageFor, demonstration: str) -> None:
    inks = []
    for dark in (False, True):
        page = opened(page_for(dark=dark), demonstration)
        text = page.locator("figure .figure-text").first
        inks.append(text.evaluate("text => getComputedStyle(text).fill"))
    assert inks[0] != inks[1]


def test_the_figures_stay_readable_with_forced_colours(
    page_for: PageFor, demonstration: str
) -> None:
    page = opened(page_for(), demonstration)
    page.emulate_media(forced_colors="active")
    fill, ink = page.locator("figure").first.evaluate(
        """figure => [".figure-fill-1", ".figure-text"].map(
             kind => getComputedStyle(figure.querySelector(kind)).fill)"""
    )
    assert fill != ink


def test_nothing_moves_for_a_reader_who_asks_for_no_motion(
    page_for: PageFor, demonstration: str
) -> None:
    page = opened(page_for(), demonstration)
    page.emulate_media(reduced_motion="reduce")
    moving = page.evaluate(
        """() => [...document.querySelectorAll("*")].filter(
             one => parseFloat(getComputedStyle(one).transitionDuration) > 0).length"""
    )
    assert moving == 0
