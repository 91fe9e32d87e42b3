"""Each interaction by keyboard alone, by touch at 320 px, and as a screen reader hears it; sittings that are killed."""

from __future__ import annotations

import os
import re
import signal
import socket
import subprocess
import sys
import time
import urllib.request
from collections.abc import Iterator
from contextlib import suppress
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path
from random import Random
from uuid import UUID, uuid4

import pytest
from playwright.sync_api import Error, Page, expect

from academy.content.library import CourseLibrary
from academy.domain.assessment.forms import Form, laid_out
from academy.domain.assessment.frozen import DrawnForm
from academy.domain.assessment.key import right_response
from academy.domain.assessment.progress import Purpose
from academy.domain.curriculum.course import Course
from academy.domain.curriculum.kinds import Interaction
from academy.domain.curriculum.questions import Question
from academy.services.sitting_rows import NewSitting, write_sitting
from academy.settings import PROJECT, read_settings
from academy.store.database import Database, open_database
from academy.store.queries.study import responses
from academy.store.schema import upgrade
from tests.browser.conftest import PageFor
from tests.browser.hands import answer_rightly, sign_in
from tests.browser.looking import access_faults, small_targets, width_px
from tests.support.cast import PASSWORD, Cast, settle

KINDS = tuple(Interaction)


@dataclass
class Server:
    """The site in a process of its own, which a test may kill."""

    instance: Path
    port: int
    database: Database
    course: Course
    cast: Cast
    process: subprocess.Popen[bytes] | None = None

    @property
    def address(self) -> str:
        """Return where it answers."""
        return f"http://127.0.0.1:{self.port}"

    def start(self) -> None:
        """Start the process and wait until it answers."""
        environment = os.environ | {
            "ACADEMY_INSTANCE": str(self.instance),
            "ACADEMY_BASE_URL": self.address,
        }
        command = [sys.executable, "-m", "academy", "serve", "--empty", "--port", str(self.port)]
        self.process = subprocess.Popen(
            command, cwd=PROJECT, env=environment, stdout=subprocess.DEVNULL,
            stderr=subprocess.DEVNULL,
        )  # fmt: skip
        for _ in range(300):
            try:
                with urllib.request.urlopen(f"{self.address}/sign-in", timeout=2):
                    return
            except OSError:
                time.sleep(0.1)
        raise AssertionError("the server does not answer")

    def kill(self) -> None:
        """Kill it as a power cut would: no word to it before."""
        assert self.process is not None
        self.process.send_signal(signal.SIGKILL)
        self.process.wait()
        self.process = None

    def sitting_of(self, questions: list[Question]) -> UUID:
        """Write a quiz sitting of these questions for the trainee."""
        made, chance, trainee = uuid4(), Random(5), self.cast.shop.trainee
        form = DrawnForm(Form(tuple(laid_out(q, chance) for q in questions)), (), 5)
        new = NewSitting(
            made, trainee.shop_id, trainee.person_id, Purpose.QUIZ, self.course.modules[0].id
        )
        with self.database.writing() as session:
            write_sitting(session, new, form, datetime.now(UTC))
        return made

    def kept(self, sitting_id: UUID) -> dict[str, dict[str, object]]:
        """Return the answers the database holds."""
        with self.database.reading() as session:
            return responses(session, self.cast.shop.shop_id, sitting_id)


@pytest.fixture(scope="module")
def server(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Server]:
    instance = tmp_path_factory.mktemp("served")
    database = open_database(read_settings({"ACADEMY_INSTANCE": str(instance)}).database_url)
    upgrade(database)
    with database.writing() as session:
        cast = settle(session)
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        port = free.getsockname()[1]
    course = CourseLibrary(PROJECT / "content").course
    started = Server(instance, port, database, course, cast)
    started.start()
    yield started
    if started.process is not None:
        started.kill()
    database.close()


def one_of(course: Course, kind: Interaction) -> Question:
    """Return the first question of a kind."""
    return next(q for m in course.modules for q in m.questions if q.interaction is kind)


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
    assert server.kept(made) == {question.id: _as_saved(question)}


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
    right = right_response(question)
    if "chosen" in right:
        name = "region" if kind is Interaction.HOTSPOT else "answer"
        for number in right["chosen"]:
            page.locator(f"label:has(input[name={name}][value='{number}'])").tap()
        with page.expect_navigation():
            page.locator("main form button").tap()
    else:
        answer_rightly(page, question)
    assert server.kept(made) == {question.id: _as_saved(question)}


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


def test_a_server_killed_at_every_step_loses_no_acknowledged_answer(
    server: Server, page_for: PageFor
) -> None:
    """After each answer the next page is the acknowledgement; then the process dies."""
    questions = [one_of(server.course, kind) for kind in KINDS if kind is not Interaction.SCENARIO]
    made, page = server.sitting_of(questions), page_for(1280)
    sign_in(page, server.address, "mira", PASSWORD)
    saved: dict[str, object] = {}
    for position, question in enumerate(questions, 1):
        page.goto(f"{server.address}/sittings/{made}/questions/{position}")
        answer_rightly(page, question)
        page.wait_for_load_state()
        server.kill()
        saved[question.id] = _as_saved(question)
        assert server.kept(made) == saved
        server.start()
    page.goto(f"{server.address}/sittings/{made}")
    expect(page.locator("main")).to_contain_text(f"{len(questions)} of {len(questions)}")


def test_a_closed_browser_and_a_dropped_network_lose_no_acknowledged_answer(
    server: Server, page_for: PageFor
) -> None:
    """What was saved stands on the next device; what was sent into the void is not said to be saved."""
    questions = [one_of(server.course, kind) for kind in KINDS if kind is not Interaction.SCENARIO]
    made = server.sitting_of(questions)
    saved: dict[str, object] = {}
    for position, question in enumerate(questions, 1):
        page = page_for(320, touch=True)
        sign_in(page, server.address, "mira", PASSWORD)
        address = f"{server.address}/sittings/{made}/questions/{position}"
        page.goto(address)
        page.context.set_offline(True)
        with suppress(Error):  # the browser shows its own page: nothing was acknowledged
            answer_rightly(page, question)
        assert server.kept(made) == saved
        page.context.set_offline(False)
        page.goto(address)
        answer_rightly(page, question)
        page.wait_for_load_state()
        saved[question.id] = _as_saved(question)
        page.context.close()
        assert server.kept(made) == saved


def _as_saved(question: Question) -> dict[str, object]:
    """Return the right response as the page sends it."""
    right = dict(right_response(question))
    if question.interaction is Interaction.NUMERIC_ENTRY:
        return {"value": _Number(right["value"])}
    return {"chosen": _Several(right["chosen"])} if "chosen" in right else right


class _Number(str):
    """A number with a decimal comma or point."""

    def __eq__(self, other: object) -> bool:
        return str(self) == str(other).replace(",", ".")

    __hash__ = str.__hash__


class _Several(list):  # type: ignore[type-arg]
    """Chosen numbers in whatever order the page sends them."""

    def __eq__(self, other: object) -> bool:
        return isinstance(other, list) and sorted(self) == sorted(other)

    __hash__ = None
