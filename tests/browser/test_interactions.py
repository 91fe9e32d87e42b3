"""Each interaction by keyboard alone, by touch at 320 px, and as a screen reader hears it."""

from __future__ import annotations

import re
from collections.abc import Iterator

import pytest
from playwright.sync_api import Page

from academy.domain.assessment.key import right_response
from academy.domain.curriculum.kinds import Interaction
from academy.domain.curriculum.questions import Question
from tests.browser.conftest import PageFor
from tests.browser.hands import sign_in
from tests.browser.looking import access_faults, small_targets, width_px
from tests.support.cast import PASSWORD
from tests.support.sitting_server import Server, as_saved, one_of, served_apart

KINDS = tuple(Interaction)


@pytest.fixture(scope="module")
def server(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Server]:
    with served_apart(tmp_path_factory.mktemp("served")) as started:
        yield started


def by_keyboard(page: Page, question: Question) -> None:
    """Answer wholly right with keys alone, from wherever the page leaves the keyboard."""
    right = right_response(question)
    match question.interaction:
        case Interaction.NUMERIC_ENTRY:
            tab_to(page, "#answer")
            page.keyboard.type(right["value"])
        case Interaction.ORDER:
            for place, number in enumerate(right["order"], 1):
                select(page, f"#place-{number}", str(place))
        case Interaction.MATCH:
            for left, partner in right["pairs"].items():
                select(page, f"#partner-{left}", str(partner))
        case Interaction.SCENARIO:
            for option in right["choices"].values():
                pick_radio(page, str(option))
                to_button(page)
            return
        case Interaction.CHOICE:
            pick_radio(page, str(right["chosen"][0]))
        case _:
            name = "region" if question.interaction is Interaction.HOTSPOT else "answer"
            for number in right["chosen"]:
                tab_to(page, f"input[name={name}][value='{number}']")
                page.keyboard.press("Space")
    to_button(page)


def by_touch(page: Page, question: Question) -> None:
    """Answer wholly right with taps; a list opens the phone's own picker, a number its keys."""
    right = right_response(question)
    name = "region" if question.interaction is Interaction.HOTSPOT else "answer"
    for number in right.get("chosen", ()):
        page.locator(f"label:has(input[name={name}][value='{number}'])").tap()
    for place, number in enumerate(right.get("order", ()), 1):
        picked(page, f"#place-{number}", str(place))
    for left, partner in right.get("pairs", {}).items():
        picked(page, f"#partner-{left}", str(partner))
    for option in right.get("choices", {}).values():
        page.locator(f"label:has(input[name=answer][value='{option}'])").tap()
        tap_button(page)
    if "value" in right:
        page.locator("#answer").tap()
        page.keyboard.type(right["value"])
    if "choices" not in right:
        tap_button(page)


def picked(page: Page, selector: str, value: str) -> None:
    """Tap a list and pick from what the phone shows, which only the browser itself can do."""
    page.locator(selector).tap()
    page.keyboard.press("Escape")
    page.locator(selector).select_option(value)


def tap_button(page: Page) -> None:
    """Tap the button that saves and wait for the next page."""
    with page.expect_navigation():
        page.locator("main form button").tap()


def select(page: Page, selector: str, value: str) -> None:
    """Reach a list with Tab and its entry with the arrows."""
    tab_to(page, selector)
    options: list[str] = page.locator(f"{selector} option").evaluate_all(
        "all => all.map(one => one.value)"
    )
    for _ in range(options.index(value)):
        page.keyboard.press("ArrowDown")


def tab_to(page: Page, selector: str) -> None:
    """Press Tab until the control has the keyboard; round the page once at most."""
    for _ in range(80):
        if page.evaluate("s => document.activeElement.matches(s)", selector):
            return
        page.keyboard.press("Tab")
    raise AssertionError(f"Tab never reaches {selector}")


def pick_radio(page: Page, value: str) -> None:
    """Reach the group with Tab and the option with the arrows."""
    tab_to(page, "input[name=answer]")
    page.keyboard.press("Space")
    for _ in range(8):
        checked = page.evaluate("document.querySelector('input[name=answer]:checked').value")
        if checked == value:
            return
        page.keyboard.press("ArrowDown")
    raise AssertionError(f"the arrows never reach {value}")


def to_button(page: Page) -> None:
    """Reach the button that saves and press it, then wait for the next page."""
    tab_to(page, "main form button")
    with page.expect_navigation():
        page.keyboard.press("Enter")


@pytest.mark.parametrize("kind", KINDS)
def test_each_interaction_is_answered_by_keyboard_alone(
    server: Server, page_for: PageFor, kind: Interaction
) -> None:
    question, page = one_of(server.course, kind), page_for(1280)
    made = server.sitting_of([question])
    sign_in(page, server.address, "mira", PASSWORD)
    page.goto(f"{server.address}/sittings/{made}/questions/1")
    by_keyboard(page, question)
    assert server.kept(made) == {question.id: as_saved(question)}


@pytest.mark.parametrize("kind", KINDS)
def test_each_interaction_is_answered_by_touch_at_320_px(
    server: Server, page_for: PageFor, kind: Interaction
) -> None:
    """Nothing is clipped, each target is large enough, and a finger answers it."""
    question, page = one_of(server.course, kind), page_for(320, touch=True)
    made = server.sitting_of([question])
    sign_in(page, server.address, "mira", PASSWORD)
    page.goto(f"{server.address}/sittings/{made}/questions/1")
    assert width_px(page) <= 320
    assert small_targets(page) == []
    by_touch(page, question)
    assert server.kept(made) == {question.id: as_saved(question)}


@pytest.mark.parametrize("kind", KINDS)
def test_each_interaction_is_heard_with_its_group_and_its_names(
    server: Server, page_for: PageFor, kind: Interaction
) -> None:
    """The accessibility tree names the group, every control and the button, and axe finds nothing."""
    roles = {
        Interaction.CHOICE: "radio",
        Interaction.MULTIPLE_RESPONSE: "checkbox",
        Interaction.HOTSPOT: "checkbox",
        Interaction.ORDER: "combobox",
        Interaction.MATCH: "combobox",
        Interaction.NUMERIC_ENTRY: "textbox",
        Interaction.SCENARIO: "radio",
    }
    question, page = one_of(server.course, kind), page_for(1280)
    made = server.sitting_of([question])
    sign_in(page, server.address, "mira", PASSWORD)
    page.goto(f"{server.address}/sittings/{made}/questions/1")
    heard = page.locator("main").aria_snapshot()
    # a name with a colon in it stands in quotes of its own
    named = re.findall(rf"- '?{roles[kind]} \"((?:[^\"\\]|\\.)+)\"", heard)
    controls = page.locator("main").get_by_role(roles[kind]).count()  # type: ignore[arg-type]
    assert len(named) == controls > 0
    assert len(set(named)) == controls, "each control has a name of its own"
    assert kind is Interaction.NUMERIC_ENTRY or re.search(r'- group "[^"]+"', heard)
    assert re.search(r'- button "(Save the answer|Decide)"', heard)
    assert '- heading "Question 1 of 1"' in heard
    assert access_faults(page) == []
