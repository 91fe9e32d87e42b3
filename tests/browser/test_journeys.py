"""The journeys of the three people in a real browser, from an empty shop to a level on the board."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from contextlib import AbstractContextManager
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path
from uuid import uuid4

import pytest
from flask import Flask
from playwright.sync_api import Page, expect

from academy.content.library import CourseLibrary
from academy.domain.assessment.frozen import drawn_form_from_frozen
from academy.domain.assessment.key import right_response
from academy.domain.curriculum.course import Course, Module
from academy.domain.curriculum.tasks import PracticalTask
from academy.services import quiz, sitting, study
from academy.services.actor import Actor
from academy.services.first_start import first_start
from academy.settings import PROJECT, read_settings
from academy.store.database import Database, open_database
from academy.store.queries.people import members
from academy.store.schema import upgrade
from academy.store.tables.people import Shop
from academy.store.tables.study import Sitting
from academy.web.app import create_app
from tests.browser.conftest import PageFor
from tests.browser.hands import (
    PASSWORD,
    accept_invitation,
    answer_rightly,
    invite,
    question_on,
    sign_in,
    type_readings,
)
from tests.browser.looking import access_faults, width_px
from tests.browser.panel_hands import fill_stage

Serve = Callable[[Flask], AbstractContextManager[str]]
FILM_UM = (112.0, 110.4, 108.6, 111.2, 109.8)


@dataclass(frozen=True)
class EmptyShop:
    """A real, empty shop being served, and its owner's one-time link."""

    address: str
    link: str
    course: Course
    database: Database


@pytest.fixture
def empty_shop(tmp_path: Path, serve: Serve) -> Iterator[EmptyShop]:
    library = CourseLibrary(PROJECT / "content")
    settings = read_settings({"ACADEMY_INSTANCE": str(tmp_path)})
    database = open_database(settings.database_url)
    upgrade(database)
    with database.writing() as session:
        started = first_start(session, course=library.course, empty=True, now=datetime.now(UTC))
    app = create_app(settings, database=database, library=library)
    with serve(app) as address:
        link = f"{address}/invitations/{started.invitation_token}"
        yield EmptyShop(address, link, library.course, database)
    database.close()


def test_from_an_empty_shop_to_a_certificate_and_a_restriction(
    empty_shop: EmptyShop, page_for: PageFor
) -> None:
    """Trainee studies and sits; supervisor assesses and signs; owner decides, then holds back."""
    owner, phone, tablet = page_for(1280), page_for(320, touch=True), page_for(360, touch=True)
    links = _open_the_shop(owner, empty_shop)

    accept_invitation(phone, links["trainee"], "Mia Vance", "mia")
    _first_day(phone, empty_shop)
    _pass_the_rest(empty_shop, "Mia Vance")

    accept_invitation(tablet, links["supervisor"], "Owen Hale", "owen")
    _fill_the_workshop(tablet, empty_shop)
    for task_id in ("measuring-a-section", "single-step-polishing"):
        task = empty_shop.course.task(task_id)
        assert task is not None
        _assess(tablet, empty_shop, task)

    owner.goto(f"{empty_shop.address}/board/")
    owner.locator("td", has_text="ready for decision").get_by_role("link").first.click()
    expect(owner.get_by_role("heading", level=1)).to_contain_text("Mia Vance")
    expect(owner.locator("main")).to_contain_text("competent, assessed")
    owner.get_by_role("link", name="Decide on this certificate").click()
    owner.get_by_label("give the certificate").check()
    _sign_as_owner(owner, "Decide and sign")
    expect(owner.get_by_role("heading", level=1)).to_have_text("In-house certificate of skill")
    expect(owner.locator("main")).to_contain_text("while a supervisor is on site")
    expect(owner.locator("main")).to_contain_text("Owen Hale")

    owner.goto(f"{empty_shop.address}/board/")
    cell = owner.locator("td", has=owner.get_by_role("link", name="supervisor on site")).first
    expect(cell).to_contain_text("certified 'supervisor on site' until")
    cell.get_by_role("link").click()
    owner.get_by_role("link", name="Hold back").click()
    owner.get_by_label("supervisor beside").check()
    owner.get_by_label("Why").fill("two lifted edges this week")
    owner.get_by_label("You look at it again on").fill("2099-01-31")
    _sign_as_owner(owner, "Hold back and sign")
    owner.goto(f"{empty_shop.address}/board/")
    expect(owner.locator("main")).to_contain_text("held at 'supervisor beside' by the owner")


def _sign_as_owner(owner: Page, button: str) -> None:
    owner.get_by_label("Your sign-in name").fill("ana")
    owner.get_by_label("Your password").fill(PASSWORD)
    owner.get_by_role("button", name=button).click()


def test_a_reading_that_cannot_be_is_asked_about_and_kept_on_record(
    empty_shop: EmptyShop, page_for: PageFor
) -> None:
    """Nonsense at the panel gets a sentence beside the field and nothing typed is lost."""
    owner, tablet = page_for(1280), page_for(360, touch=True)
    links = _open_the_shop(owner, empty_shop)
    accept_invitation(owner, links["trainee"], "Mia Vance", "mia")
    accept_invitation(tablet, links["supervisor"], "Owen Hale", "owen")
    _fill_the_workshop(tablet, empty_shop)
    task = empty_shop.course.task("single-step-polishing")
    assert task is not None
    _open_practical(tablet, empty_shop, task)
    for stage in ("first-look", "gauge"):
        tablet.get_by_role("link", name="Record it").click()
        fill_stage(tablet, stage)
    tablet.get_by_role("link", name="Record it").click()

    rows = _rows(task, 0.0)
    rows[0][0], rows[1][0], rows[2][0] = "abc", "-4", "4.4"
    rows[3][0] = "340"
    type_readings(tablet, rows)
    expect(tablet.locator("main")).to_contain_text("4 readings need another look")
    expect(tablet.locator("#reading-1-1-fault")).to_contain_text("is not a number")
    expect(tablet.locator("#reading-2-1-fault")).to_contain_text("is not above 0")
    expect(tablet.locator("#reading-3-1-fault")).to_contain_text("mil")
    expect(tablet.locator("#reading-4-1-fault")).to_contain_text("far from the readings around it")
    assert tablet.locator("#reading-5-1").input_value() == rows[4][0]

    fixed = _rows(task, 0.0)
    fixed[4][0] = fixed[4][0].replace(".", ",")
    type_readings(tablet, fixed)
    expect(tablet.locator("main")).to_contain_text("Mask and set-up")
    dropped = tablet.locator("table", has_text="Readings before").locator("tr", has_text="Spot 4")
    expect(dropped).to_contain_text("340")


def test_a_sitting_goes_on_on_another_device(empty_shop: EmptyShop, page_for: PageFor) -> None:
    """A phone dies in the middle of a quiz; the shop's computer shows every answer given."""
    owner, phone, computer = page_for(1280), page_for(320, touch=True), page_for(1280)
    links = _open_the_shop(owner, empty_shop)
    accept_invitation(phone, links["trainee"], "Mia Vance", "mia")
    module = empty_shop.course.modules[0]
    phone.goto(f"{empty_shop.address}/course/{module.id}")
    phone.get_by_role("button", name="Sit the quiz").click()
    answer_rightly(phone, question_on(phone, empty_shop.course))
    phone.context.close()

    sign_in(computer, empty_shop.address, "mia")
    expect(computer.locator("main")).to_contain_text("Every answer you gave is there")
    computer.get_by_role("link", name="Go on with the quiz").click()
    computer.get_by_role("link", name="Hand in").click()
    expect(computer.locator("main")).to_contain_text(
        f"1 of {module.blueprint.questions} questions are answered"
    )


def test_another_shops_person_finds_nothing(empty_shop: EmptyShop, page_for: PageFor) -> None:
    """What belongs to another shop answers as if it did not exist."""
    owner, stranger = page_for(1280), page_for(1280)
    links = _open_the_shop(owner, empty_shop)
    accept_invitation(owner, links["trainee"], "Mia Vance", "mia")
    with empty_shop.database.writing() as session:
        session.query(Shop).first()
        from academy.services.people import invite_first_owner, open_shop

        other = open_shop(session, name="Across the road", now=datetime.now(UTC))
        token = invite_first_owner(session, other, datetime.now(UTC)).token
    link = f"{empty_shop.address}/invitations/{token}"
    accept_invitation(stranger, link, "Vera Stone", "vera", "Across the road")
    with empty_shop.database.reading() as session:
        mia = next(
            m
            for shop in session.query(Shop).all()
            for m in members(session, shop.id)
            if m.name == "Mia Vance"
        )
    scheme = empty_shop.course.schemes[0]
    answer = stranger.goto(f"{empty_shop.address}/board/{mia.person_id}/{scheme.id}")
    assert answer is not None
    assert answer.status == 404
    assert "Mia" not in stranger.locator("body").inner_text()


def _open_the_shop(page: Page, shop: EmptyShop) -> dict[str, str]:
    accept_invitation(page, shop.link, "Ana Field", "ana", "Field and Daughter")
    expect(page.locator("header")).to_contain_text("Field and Daughter")
    links = {
        role: invite(page, shop.address, f"A {role}", role) for role in ("trainee", "supervisor")
    }
    # the address printed on a slip is the shop's; here it is the test's server
    return {role: re.sub(r"^https?://[^/]+", shop.address, link) for role, link in links.items()}


def _first_day(page: Page, shop: EmptyShop) -> None:
    """See one next step, study the lesson, sit the quiz, read why."""
    module = shop.course.modules[0]
    expect(page.get_by_role("heading", name=module.lessons[0].title)).to_be_visible()
    for lesson in module.lessons:
        page.goto(f"{shop.address}/")
        page.get_by_role("link", name="Open the lesson").click()
        expect(page.get_by_role("heading", level=1)).to_contain_text(lesson.title)
        assert width_px(page) <= _window_px(page)
        page.get_by_role("button", name="I have studied this").click()
    assert access_faults(page) == []
    page.goto(f"{shop.address}/")
    page.get_by_role("link", name="Go to the quiz").click()
    page.get_by_role("button", name="Sit the quiz").click()
    for position in range(1, module.blueprint.questions + 1):
        page.goto(re.sub(r"/questions/\d+", f"/questions/{position}", page.url))
        answer_rightly(page, question_on(page, shop.course))
        page.goto(re.sub(r"/(questions/\d+|hand-in)$", f"/questions/{position}", page.url))
    page.get_by_role("link", name="Hand in").click()
    expect(page.locator("main")).to_contain_text("questions are answered")
    page.get_by_role("button", name="Hand in now").click()
    expect(page.locator("main")).to_contain_text("Passed")
    assert width_px(page) <= _window_px(page)
    taught = page.get_by_text("Taught under").first.get_by_role("link")
    anchor = taught.get_attribute("href")
    assert anchor is not None
    taught.click()
    expect(page.locator(f"[id='{anchor.split('#')[1]}']")).to_have_count(1)


def _pass_the_rest(shop: EmptyShop, name: str) -> None:
    """Pass the other modules through the same services the pages call."""
    with shop.database.reading() as session:
        shop_id = session.query(Shop.id).scalar()
        person = next(m for m in members(session, shop_id) if m.name == name)
    actor = Actor(person.person_id, shop_id, name, frozenset(person.roles))
    for module in shop.course.modules[1:]:
        _pass(shop, actor, module)


def _pass(shop: EmptyShop, actor: Actor, module: Module) -> None:
    now = datetime.now(UTC)
    with shop.database.writing() as session:
        for lesson in module.lessons:
            study.finish_lesson(session, actor=actor, reading_id=uuid4(), lesson=lesson, now=now)
        sitting_id = quiz.open_quiz(
            session, actor=actor, sitting_id=uuid4(), module=module, now=now
        )
        session.flush()
        form = session.get_one(Sitting, (actor.shop_id, sitting_id)).form
        for item in drawn_form_from_frozen(form).form.questions:
            sitting.save_answer(
                session,
                actor=actor,
                sitting_id=sitting_id,
                answer_id=uuid4(),
                question_id=item.question.id,
                response=right_response(item.question),
                now=now,
            )
        sitting.submit_sitting(
            session, actor=actor, sitting_id=sitting_id, course=shop.course, now=now
        )


def _fill_the_workshop(page: Page, shop: EmptyShop) -> None:
    page.goto(f"{shop.address}/workshop/panels/new")
    page.get_by_label("Label").fill("Bonnet 1")
    page.locator("input[name=substrate][value=steel]").check()
    page.get_by_label("Paint", exact=True).fill("black two-layer")
    page.get_by_role("button", name="Add the panel").click()
    page.goto(f"{shop.address}/workshop/gauges/new")
    page.get_by_label("Label").fill("Bench gauge")
    page.get_by_label("Serial number").fill("T-1")
    page.get_by_label("Resolution").fill("0,1")
    page.get_by_label("Repeatability").fill("0.4")
    page.locator("input[name=methods][value=magnetic]").check()
    page.get_by_label("Stated tolerance, fixed part").fill("1")
    page.get_by_label("Stated tolerance, share of the thickness").fill("1")
    page.get_by_role("button", name="Add the gauge").click()
    expect(page.locator("main")).to_contain_text("Bench gauge")
    _verify_the_gauge(page, shop)


def _verify_the_gauge(page: Page, shop: EmptyShop) -> None:
    """Add a certified foil and verify the gauge on zero and on the foil, as each day begins."""
    page.goto(f"{shop.address}/workshop/foils/new")
    page.get_by_label("Label").fill("Foil 100")
    page.get_by_label("Certified thickness").fill("99.8")
    page.get_by_label("Tolerance, fixed part").fill("0.5")
    page.get_by_role("button", name="Add the foil").click()
    page.get_by_role("link", name="Verify Bench gauge").click()
    page.get_by_label("Bare metal").fill("0.1 0.0 0.2")
    page.get_by_label("Foil 100").fill("99.9 100.1 99.8")
    page.get_by_role("button", name="Judge the gauge").click()
    expect(page.locator("main")).to_contain_text("passed")


def _open_practical(page: Page, shop: EmptyShop, task: PracticalTask) -> None:
    page.goto(f"{shop.address}/practicals/new")
    page.get_by_label("Trainee").select_option(label="Mia Vance")
    page.get_by_label("Practical task").select_option(task.id)
    page.get_by_label("Section").select_option(index=1)
    page.get_by_label("Gauge").select_option(index=1)
    page.locator("input[name=kind][value=assessed]").check()
    page.get_by_role("button", name="Open the practical").click()
    expect(page.get_by_role("heading", level=1)).to_contain_text(task.title)


def _assess(page: Page, shop: EmptyShop, task: PracticalTask) -> None:
    """Take one practical from the first reading to both signatures, on one device."""
    _open_practical(page, shop, task)
    rounds = 0
    while page.get_by_role("link", name="Record it").count():
        page.get_by_role("link", name="Record it").click()
        page.wait_for_url("**/stages/*")
        assert width_px(page) <= _window_px(page)
        stage = page.url.rsplit("/", 1)[1]
        if stage in {"before", "after"}:
            type_readings(page, _rows(task, 0.6 if stage == "after" else 0.0))
        else:
            fill_stage(page, stage)
        page.wait_for_url(re.compile(r"/practicals/[0-9a-f-]{36}$"))
        rounds += 1
        assert rounds < 20
    if task.limit_um is not None:
        expect(page.locator("main")).to_contain_text("Within the limit")
    page.get_by_role("button", name="Close the record").click()
    practical = page.url
    page.get_by_role("link", name="Sign at the desk").click()
    _sign_here(page)
    page.goto(practical)
    expect(page.locator("main")).to_contain_text("Owen Hale, assessed")
    page.get_by_role("link", name="Sign at the desk").click()
    page.get_by_role("link", name="Mia Vance").click()
    _sign_here(page)
    page.goto(practical)
    expect(page.locator("main")).to_contain_text("Mia Vance, seen and agreed")


def _sign_here(page: Page) -> None:
    """Tick the one record shown and prove the password."""
    page.locator("input[name=record]").check()
    page.locator("input[name=password]").fill(PASSWORD)
    page.get_by_role("button", name="Sign the records ticked").click()
    expect(page.locator("body")).to_contain_text("One record is signed")


def _rows(task: PracticalTask, removed_um: float) -> list[list[str]]:
    """Return readings with a little scatter, as they would be typed."""
    scatter = (0.0, 0.3, -0.2, 0.1, -0.3, 0.2, 0.0)
    return [
        [f"{FILM_UM[spot] - removed_um + scatter[n]:.1f}" for n in range(task.readings_per_spot)]
        for spot in range(task.spots)
    ]


def _title(shop: EmptyShop, task_id: str) -> str:
    task = shop.course.task(task_id)
    assert task is not None
    return task.title


def _window_px(page: Page) -> int:
    size = page.viewport_size
    assert size is not None
    return size["width"]
