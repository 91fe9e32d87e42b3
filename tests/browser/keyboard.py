"""A person without a mouse: Tab to a control, then its own keys."""

from __future__ import annotations

from contextlib import suppress

from playwright.sync_api import FilePayload, Page, TimeoutError

MOST_TABS = 160


def reach(page: Page, selector: str) -> None:
    """Press Tab until a control that fits has the focus."""
    for _press in range(MOST_TABS):
        page.keyboard.press("Tab")
        if page.evaluate("selector => document.activeElement.matches(selector)", selector):
            return
    raise AssertionError(f"the keyboard does not reach {selector} on {page.url}")


def write(page: Page, selector: str, text: str) -> None:
    """Tab to a field and type."""
    reach(page, selector)
    page.keyboard.press("Control+a")
    page.keyboard.type(text)


def tick(page: Page, selector: str) -> None:
    """Tab to a box and press the space bar, unless it is ticked."""
    reach(page, selector)
    if not page.evaluate("document.activeElement.checked"):
        page.keyboard.press("Space")


def choose(page: Page, name: str, value: str) -> None:
    """Tab to a group of options and move to one with the arrow keys."""
    reach(page, f"input[name='{name}']")
    page.keyboard.press("Space")
    for _press in range(12):
        if page.evaluate("document.activeElement.value") == value:
            return
        page.keyboard.press("ArrowDown")
    raise AssertionError(f"{value} is not among the options of {name}")


def hand_over(page: Page, selector: str, file: FilePayload) -> None:
    """Tab to a file field and open its chooser with the space bar."""
    reach(page, selector)
    for _press in range(3):  # a busy machine may swallow the first
        with suppress(TimeoutError), page.expect_file_chooser(timeout=5000) as chooser:
            page.keyboard.press("Space")
            chooser.value.set_files(file)
            return
    raise AssertionError(f"no chooser opens at {selector} on {page.url}")


def press(page: Page, selector: str) -> None:
    """Tab to a button or a link and press Enter."""
    reach(page, selector)
    with page.expect_navigation():
        page.keyboard.press("Enter")
