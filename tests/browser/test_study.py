"""Words with their meaning, search, sheets and the preview, in a real browser."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect

from academy.content.library import CourseLibrary
from academy.settings import read_settings
from academy.store.database import Database
from academy.web.app import create_app
from academy.web.preview.app import create_preview
from tests.browser.conftest import PageFor, served
from tests.browser.hands import sign_in
from tests.browser.looking import access_faults, small_targets, tab_through, width_px
from tests.content.course_tree import LESSON, CourseTree
from tests.support.cast import PASSWORD, settle

LESSON_PAGE = "/course/safety/before-you-start"
PAGES = (
    LESSON_PAGE,
    "/course",
    "/course/safety",
    "/course/safety/summary",
    "/course/safety/trainer-sheet",
    "/tasks/polish-one-section/trainer-sheet",
    "/glossary#haze",
    "/search?q=cord",
    "/search",
    "/search?q=zzzz",
)


@dataclass(frozen=True)
class Shop:
    """A served shop with the small course."""

    address: str

    def open(self, page: Page, where: str) -> None:
        """Sign the supervisor in and open a page."""
        sign_in(page, self.address, "jonas", PASSWORD)
        page.goto(self.address + where)


@pytest.fixture
def tree(tmp_path: Path) -> CourseTree:
    tree = CourseTree(tmp_path / "content")
    tree.write("modules/safety/trainer.md", "## Bring\n\nTwo lamps.\n")
    return tree


@pytest.fixture
def shop(tree: CourseTree, tmp_path: Path, sqlite: Database) -> Iterator[Shop]:
    settings = read_settings({"ACADEMY_INSTANCE": str(tmp_path / "instance")})
    with sqlite.writing() as session:
        settle(session)
    app = create_app(settings, database=sqlite, library=CourseLibrary(tree.root))
    with served(app) as address:
        yield Shop(address)


@pytest.fixture
def preview(tree: CourseTree, tmp_path: Path) -> Iterator[str]:
    with served(create_preview(tree.root, tmp_path / "scratch")) as address:
        yield address


@pytest.mark.parametrize(("width", "dark"), [(320, True), (1280, False)], ids=["phone", "desk"])
def test_studying_is_for_everybody(shop: Shop, page_for: PageFor, width: int, dark: bool) -> None:
    page = page_for(width, dark=dark, touch=width == 320)
    shop.open(page, "/course")
    for where in PAGES:
        page.goto(shop.address + where)
        assert access_faults(page) == [], where
        assert width_px(page) <= width, where
        assert small_targets(page) == [], where


def test_a_tap_shows_the_meaning_and_the_page_stays(shop: Shop, page_for: PageFor) -> None:
    page = page_for(320, touch=True)
    shop.open(page, LESSON_PAGE)
    meaning = page.locator("#meaning_haze")
    expect(meaning).to_be_hidden()
    page.get_by_role("button", name="haze").tap()
    expect(meaning).to_be_visible()
    expect(meaning).to_contain_text("A milky look")
    assert access_faults(page) == []
    box = meaning.bounding_box()
    assert box is not None
    assert box["x"] >= 0
    assert box["x"] + box["width"] <= 320
    page.locator("h1").tap()
    expect(meaning).to_be_hidden()
    assert page.url.endswith(LESSON_PAGE)


def test_the_keyboard_shows_the_meaning_below_the_word_and_escape_puts_it_away(
    shop: Shop, page_for: PageFor
) -> None:
    page = page_for(1280)
    shop.open(page, LESSON_PAGE)
    stops = tab_through(page)
    assert any("meaning_haze" in stop.control for stop in stops)
    assert [stop.control for stop in stops if stop.outline_px < 2 or stop.covered] == []
    _tab_to(page, "button.term")
    word, meaning = page.locator("button.term"), page.locator("#meaning_haze")
    expect(meaning).to_be_visible()
    above, below = word.bounding_box(), meaning.bounding_box()
    assert above is not None
    assert below is not None
    assert below["y"] >= above["y"] + above["height"] - 1
    page.keyboard.press("Escape")
    expect(meaning).to_be_hidden()
    page.keyboard.press("Enter")
    expect(meaning.get_by_role("link", name="Haze")).to_be_visible()
    page.keyboard.press("Escape")
    expect(meaning).to_be_hidden()


def test_a_screen_reader_hears_the_meaning_with_the_word(shop: Shop, page_for: PageFor) -> None:
    page = page_for(1280)
    shop.open(page, LESSON_PAGE)
    word = page.get_by_role("button", name="haze", exact=True)
    expect(word).to_have_accessible_description("Haze A milky look that fine scratches leave.")


def test_without_a_script_the_meaning_is_still_shown(shop: Shop, browser: Browser) -> None:
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    shop.open(page, LESSON_PAGE)
    page.get_by_role("button", name="haze").click()
    expect(page.locator("#meaning_haze")).to_be_visible()
    context.close()


def test_a_browser_that_knows_no_popovers_has_a_plain_link(shop: Shop, page_for: PageFor) -> None:
    """Such a browser does not apply the rules that hide the link; here no rule reaches it."""
    page = page_for(1280)
    page.route("**/*.css", lambda route: route.abort())
    shop.open(page, LESSON_PAGE)
    assert page.get_by_role("button", name="haze").count() == 0
    page.get_by_role("link", name="haze", exact=True).click()
    assert page.url.endswith("/glossary#haze")


def test_searching_is_a_form_whose_address_can_be_kept(shop: Shop, page_for: PageFor) -> None:
    page = page_for(320, touch=True)
    shop.open(page, "/course")
    page.get_by_label("Search the course").fill("the crod")
    page.get_by_role("button", name="Search").click()
    assert "/search?q=the+crod" in page.url
    page.locator(".found a").first.click()
    assert page.url.endswith(f"{LESSON_PAGE}#cord")


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_sheets_print_without_the_sites_furniture(
    shop: Shop, page_for: PageFor, paper: str
) -> None:
    """What is folded is printed, what is pressed is not, and nothing is wider than the paper."""
    page = page_for({"A4": 794, "Letter": 816}[paper])
    shop.open(page, "/course/safety/summary")
    page.emulate_media(media="print")
    for where in ("/course/safety/summary", "/tasks/polish-one-section/trainer-sheet", "/glossary"):
        page.goto(shop.address + where)
        expect(page.locator("body > nav")).to_be_hidden()
        assert page.locator("form.search:visible, .letters:visible").count() == 0
        assert width_px(page) <= {"A4": 794, "Letter": 816}[paper]
        assert page.pdf(format=paper, prefer_css_page_size=True).count(b"/MediaBox") >= 1
    page.goto(shop.address + "/course/safety/summary")
    expect(page.get_by_text("Tie hair back.")).to_be_visible()


def test_the_preview_loads_itself_again_when_the_author_saves(
    preview: str, tree: CourseTree, page_for: PageFor
) -> None:
    page = page_for(1280)
    page.goto(preview + LESSON_PAGE)
    assert access_faults(page) == []
    tree.change(LESSON, "Run it over your shoulder", "Hang it over your shoulder")
    expect(page.locator("article.lesson")).to_contain_text("Hang it over", timeout=10_000)
    tree.change(LESSON, "term:haze", "term:nothing")
    expect(page.locator(".source-problems")).to_contain_text("no term nothing", timeout=10_000)
    assert access_faults(page) == []
    assert width_px(page) <= 1280


def test_the_previews_own_page_is_for_everybody(preview: str, page_for: PageFor) -> None:
    for width in (320, 1280):
        page = page_for(width, dark=width == 320)
        page.goto(preview + "/preview")
        assert access_faults(page) == []
        assert width_px(page) <= width
        assert small_targets(page) == []


def _tab_to(page: Page, selector: str) -> None:
    page.locator("h1").click()
    for _press in range(60):
        page.keyboard.press("Tab")
        if page.evaluate("selector => document.activeElement.matches(selector)", selector):
            return
    pytest.fail(f"the keyboard does not reach {selector}")
