"""Examinations in a real browser: on the spot near the pass mark, on paper, and by the clock."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from contextlib import AbstractContextManager
from dataclasses import dataclass
from datetime import timedelta
from pathlib import Path
from uuid import UUID

import pytest
from flask import Flask
from playwright.sync_api import Page, expect

from academy.content.library import CourseLibrary
from academy.domain.assessment.examination import near_the_cut
from academy.domain.assessment.forms import Form
from academy.domain.assessment.key import right_response
from academy.domain.assessment.results import result_of
from academy.domain.curriculum.course import Course
from academy.domain.curriculum.kinds import Interaction
from academy.settings import PROJECT, read_settings
from academy.store.database import Database, open_database
from academy.store.schema import upgrade
from academy.store.tables.study import Sitting
from academy.web.app import create_app
from tests.browser.conftest import PageFor
from tests.browser.hands import answer_rightly, sign_in
from tests.browser.looking import access_faults, small_targets, width_px
from tests.support.cast import PASSWORD, Cast, settle
from tests.support.journey import form_of

Serve = Callable[[Flask], AbstractContextManager[str]]
SCHEME = "single-step-polishing"


@dataclass(frozen=True)
class Shop:
    """The shop being served, with its people and the real course."""

    address: str
    database: Database
    course: Course
    cast: Cast

    def form(self, examination_id: UUID) -> Form:
        """Return the form that was drawn."""
        with self.database.reading() as session:
            return form_of(session, self.cast.shop.shop_id, examination_id)

    def begun_earlier(self, examination_id: UUID, by: timedelta) -> None:
        """Move the moment the clock was started."""
        with self.database.writing() as session:
            sitting = session.get_one(Sitting, (self.cast.shop.shop_id, examination_id))
            assert sitting.begun_at is not None
            sitting.begun_at -= by

    def open(self, page: Page, address: str) -> None:
        """Open an address of the site."""
        page.goto(self.address + address)


@pytest.fixture
def shop(tmp_path: Path, serve: Serve) -> Iterator[Shop]:
    library = CourseLibrary(PROJECT / "content")
    settings = read_settings({"ACADEMY_INSTANCE": str(tmp_path)})
    database = open_database(settings.database_url)
    upgrade(database)
    with database.writing() as session:
        cast = settle(session)
    with serve(create_app(settings, database=database, library=library)) as address:
        yield Shop(address, database, library.course, cast)
    database.close()


def test_near_the_mark_the_supervisor_asks_and_decides(shop: Shop, page_for: PageFor) -> None:
    """Opened on a tablet, sat on a phone with larger print, decided by three spoken answers."""
    tablet, phone = page_for(360, touch=True), page_for(320, touch=True)
    sign_in(tablet, shop.address, "jonas", PASSWORD)
    sign_in(phone, shop.address, "mira", PASSWORD)
    examination = _open_one_to_talk_about(tablet, shop)
    expect(tablet.locator(".verdict")).to_contain_text("open, not begun")

    shop.open(phone, "/")
    phone.get_by_role("link", name=re.compile("examination", re.IGNORECASE)).first.click()
    expect(phone.locator("main")).to_contain_text("50 minutes")
    expect(phone.locator("main")).to_contain_text("larger print")
    _check(phone, 320)
    phone.get_by_role("button", name="Begin; the time runs from now").click()
    expect(phone.locator("body")).to_have_class("larger-print")
    _check(phone, 320)

    form = shop.form(examination)
    answered = _near_the_cut(form, _must_know(shop))
    for position in answered:
        shop.open(phone, f"/sittings/{examination}/questions/{position}")
        answer_rightly(phone, form.questions[position - 1].question)
    shop.open(phone, f"/sittings/{examination}/hand-in")
    expect(phone.locator("main")).to_contain_text(
        f"{len(answered)} of {len(form.questions)} questions are answered"
    )
    _check(phone, 320)
    phone.get_by_role("button", name="Hand in now").click()
    expect(phone.locator(".verdict")).to_contain_text("your supervisor asks three questions")
    _check(phone, 320)
    shop.open(phone, f"/sittings/{examination}/result")
    expect(phone.get_by_text("Every question with its reasons")).to_have_count(0)

    for left, answer in enumerate(("yes", "no", "yes")):
        shop.open(tablet, f"/examinations/{examination}")
        _check(tablet, 360)
        asked = tablet.locator("section[aria-labelledby=to-ask] article")
        expect(asked).to_have_count(3 - left)
        asked.first.locator(f"input[value={answer}]").check()
        asked.first.locator("textarea").fill(f"Said it in his own words, answer {left + 1}.")
        asked.first.get_by_role("button", name="Record this answer").click()
    expect(tablet.locator(".verdict")).to_contain_text("passed")
    expect(tablet.locator("section[aria-labelledby=asked] article")).to_have_count(3)
    _check(tablet, 360)

    shop.open(phone, f"/sittings/{examination}/result")
    expect(phone.get_by_text("Every question with its reasons")).to_be_visible()
    _check(phone, 320)
    shop.open(phone, f"/examinations/{examination}")
    expect(phone.locator("section[aria-labelledby=asked]")).to_have_count(0)

    missed = next(n for n in range(1, len(form.questions) + 1) if n not in answered)
    _question_and_take_out(phone, page_for(1280), shop, examination, missed)


def _question_and_take_out(
    phone: Page, desk: Page, shop: Shop, examination: UUID, position: int
) -> None:
    """The trainee questions an item; a supervisor who did not examine takes it out."""
    shop.open(phone, f"/sittings/{examination}/result")
    phone.get_by_role("link", name=f"Question this item: question {position}", exact=True).click()
    _check(phone, 320)
    phone.get_by_label("What is wrong with it").fill("Two of the answers say the same.")
    phone.get_by_role("button", name="Question this item").click()
    sign_in(desk, shop.address, "greta", PASSWORD)
    shop.open(desk, "/disputes")
    _check(desk, 1280)
    desk.locator("main li a").first.click()
    expect(desk.locator("blockquote")).to_contain_text("Two of the answers say the same.")
    _check(desk, 1280)
    desk.locator("input[name=decision]").first.check()
    desk.get_by_label("Why").fill("The words can be read in two ways.")
    desk.get_by_label("I did not write this item").check()
    desk.get_by_role("button", name="Decide").click()
    shop.open(phone, f"/sittings/{examination}/result")
    expect(phone.locator(".verdict")).to_contain_text("passed", ignore_case=True)
    expect(phone.locator("main")).to_contain_text("The words can be read in two ways.")


def test_a_paper_counts_when_two_people_read_it_alike(shop: Shop, page_for: PageFor) -> None:
    """Printed with a separate key, entered twice, asked again where the entries differ."""
    tablet, desk = page_for(360, touch=True), page_for(1280)
    sign_in(tablet, shop.address, "jonas", PASSWORD)
    sign_in(desk, shop.address, "greta", PASSWORD)
    examination = _open_examination(tablet, shop, on_paper=True)
    for page, name in ((tablet, "The paper, to print"), (desk, "The key, to print")):
        shop.open(page, f"/examinations/{examination}")
        page.get_by_role("link", name=name).click()
        _check(page, 360 if page is tablet else 1280)
    form = shop.form(examination)
    expect(tablet.locator(".paper article")).to_have_count(len(form.questions))
    expect(desk.locator(".answer-key > li")).to_have_count(len(form.questions))
    assert len(tablet.pdf()) > 10_000

    first = next(
        n for n, i in enumerate(form.questions, 1) if i.question.interaction is Interaction.CHOICE
    )
    right = str(right_response(form.questions[first - 1].question)["chosen"][0])
    _enter(tablet, shop, examination, first, right)
    expect(tablet.locator(".verdict")).to_contain_text("on paper")
    wrong = "2" if right == "1" else "1"
    _enter(desk, shop, examination, first, wrong)
    expect(desk.get_by_role("alert")).to_contain_text(f"differ at question {first};")
    assert desk.locator(f"#question-{first} input:checked").input_value() == wrong
    _check(desk, 1280)
    _enter(desk, shop, examination, first, right)
    shop.open(desk, f"/examinations/{examination}")
    expect(desk.locator(".verdict")).to_contain_text("not passed yet")


def test_the_clock_speaks_and_the_server_closes(shop: Shop, page_for: PageFor) -> None:
    """Ten, two and no minutes left are said aloud; afterwards nothing more is taken."""
    tablet, phone = page_for(360, touch=True), page_for(320, touch=True)
    sign_in(tablet, shop.address, "jonas", PASSWORD)
    sign_in(phone, shop.address, "mira", PASSWORD)
    examination = _open_examination(tablet, shop)
    shop.open(phone, f"/sittings/{examination}/begin")
    phone.clock.install()
    phone.get_by_role("button", name="Begin; the time runs from now").click()
    phone.wait_for_load_state("networkidle")
    says = phone.locator(".time-left [role=status]")
    expect(says).to_have_text("")
    for minutes, words in (
        (30.1, "Ten minutes are left."),
        (8, "Two minutes are left. Every answer you saved is kept."),
        (2, "The time is up. Hand in what you have answered."),
    ):
        phone.clock.fast_forward(int(minutes * 60_000))
        expect(says).to_have_text(words)

    items = [item.question for item in shop.form(examination).questions]
    at_once = next(q for q in items if q.interaction is Interaction.CHOICE)
    late = page_for(1280)
    sign_in(late, shop.address, "mira", PASSWORD)
    shop.open(late, f"/sittings/{examination}/questions/{items.index(at_once) + 1}")
    shop.begun_earlier(examination, timedelta(minutes=41))
    answer_rightly(late, at_once)
    expect(late.get_by_role("alert").first).to_contain_text("The time of this examination is up")
    shop.open(tablet, f"/examinations/{examination}")
    tablet.get_by_role("button", name="Close it with what was answered").click()
    expect(tablet.locator(".verdict")).to_contain_text("not passed yet")


def _open_examination(
    page: Page,
    shop: Shop,
    *,
    extra_time: str = "",
    larger_print: bool = False,
    on_paper: bool = False,
) -> UUID:
    shop.open(page, "/examinations/new")
    _check(page, 360)
    page.get_by_label("Candidate").select_option(label="Mira Holt")
    page.get_by_label("Scheme").select_option(SCHEME)
    page.locator("#extra_time_percent").fill(extra_time)
    if larger_print:
        page.locator("input[name=adjusted][value=larger_print]").check()
    if on_paper:
        page.get_by_label("Answered on paper").check()
    page.get_by_role("button", name="Open the examination").click()
    page.wait_for_url(lambda url: not url.endswith("/new"))
    _check(page, 360)
    return UUID(page.url.rsplit("/", 1)[1])


def _enter(page: Page, shop: Shop, examination: UUID, position: int, option: str) -> None:
    if not page.url.endswith("/enter"):
        shop.open(page, f"/examinations/{examination}/enter")
    page.locator(f"#question-{position} input[value='{option}']").check()
    page.get_by_role("button", name="Keep this entry").click()
    page.wait_for_load_state()


def _must_know(shop: Shop) -> frozenset[str]:
    return frozenset(o.id for module in shop.course.modules for o in module.must_know)


def _open_one_to_talk_about(page: Page, shop: Shop) -> UUID:
    """Open an examination that talking can decide; about one form in fifty cannot be such a one.

    Of those, everything that must be known is a clear pass already.  They are
    withdrawn before anybody begins.
    """
    must_know = _must_know(shop)
    while True:
        examination = _open_examination(page, shop, extra_time="25", larger_print=True)
        form = shop.form(examination)
        known = {
            item.question.id: right_response(item.question)
            for item in form.questions
            if item.question.objective_id in must_know
        }
        result = result_of(form, known, must_know)
        if near_the_cut(result, form) or not result.reached_cut:
            return examination
        page.get_by_role("button", name="Withdraw it").click()


def _near_the_cut(form: Form, must_know: frozenset[str]) -> list[int]:
    """Return the positions to answer rightly so that talking decides: must-know, then in order."""
    order = sorted(
        range(len(form.questions)),
        key=lambda n: (form.questions[n].question.objective_id not in must_know, n),
    )
    responses: dict[str, object] = {}
    answered: list[int] = []
    for index in order:
        question = form.questions[index].question
        result = result_of(form, responses, must_know)
        if near_the_cut(result, form) and not result.missed_must_know:
            break
        responses[question.id] = right_response(question)
        answered.append(index + 1)
    assert near_the_cut(result_of(form, responses, must_know), form)
    return sorted(answered)


def _check(page: Page, width: int) -> None:
    assert access_faults(page) == [], page.url
    assert width_px(page) <= width, page.url
    assert small_targets(page) == [], page.url
