"""A sitting that is killed, closed or cut off at any step loses no answer that was acknowledged."""

from __future__ import annotations

import http.client
import http.cookiejar
import re
import threading
import time
import urllib.error
import urllib.parse
import urllib.request
from collections.abc import Iterator
from contextlib import suppress
from dataclasses import dataclass, field
from random import Random
from uuid import UUID, uuid4

import pytest
from playwright.sync_api import Error, expect
from sqlalchemy import select

from academy.domain.assessment.frozen import drawn_form_from_frozen
from academy.domain.assessment.key import right_response
from academy.domain.curriculum.kinds import Interaction
from academy.services.journal import check_journal
from academy.store.tables.journal import JournalEntry
from academy.store.tables.study import Answer, Sitting
from tests.browser.conftest import PageFor
from tests.browser.hands import answer_rightly, sign_in
from tests.support.cast import PASSWORD
from tests.support.sitting_server import Server, as_saved, one_of, served_apart

KINDS = tuple(Interaction)
GONE = (urllib.error.URLError, http.client.HTTPException, ConnectionError, TimeoutError)


@pytest.fixture(scope="module")
def server(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Server]:
    with served_apart(tmp_path_factory.mktemp("killed")) as started:
        yield started


@dataclass
class Hand:
    """Somebody who sends forms as fast as they are answered; a reply of 303 is the acknowledgement."""

    address: str
    jar: http.cookiejar.CookieJar = field(default_factory=http.cookiejar.CookieJar)

    def get(self, path: str) -> str:
        """Return a page."""
        return self._opened(urllib.request.Request(self.address + path))[1]

    def post(self, path: str, sent: dict[str, str], page: str = "") -> int:
        """Send a form with the token of the page it stands on; return the status."""
        token = re.search(r'name="csrf_token" value="([^"]+)"', self.get(page or path))
        assert token is not None, path
        body = urllib.parse.urlencode({"csrf_token": token[1]} | sent).encode()
        return self._opened(urllib.request.Request(self.address + path, body))[0]

    def _opened(self, request: urllib.request.Request) -> tuple[int, str]:
        class Stay(urllib.request.HTTPRedirectHandler):
            def redirect_request(self, *_: object) -> None:
                return None

        opener = urllib.request.build_opener(urllib.request.HTTPCookieProcessor(self.jar), Stay)
        try:
            with opener.open(request, timeout=20) as reply:
                return reply.status, reply.read().decode()
        except urllib.error.HTTPError as reply:
            return reply.code, reply.read().decode()


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
        saved[question.id] = as_saved(question)
        assert server.kept(made) == saved
        server.start()
    page.goto(f"{server.address}/sittings/{made}")
    expect(page.locator("main")).to_contain_text(f"{len(questions)} of {len(questions)}")


def test_a_server_killed_after_each_decision_keeps_the_panel_as_it_was_left(
    server: Server, page_for: PageFor
) -> None:
    """The situation goes on from the decision that was acknowledged, with the panel it had led to."""
    question = one_of(server.course, Interaction.SCENARIO)
    made, page = server.sitting_of([question]), page_for(320, touch=True)
    sign_in(page, server.address, "mira", PASSWORD)
    address = f"{server.address}/sittings/{made}/questions/1"
    page.goto(address)
    decided: dict[str, int] = {}
    for decision, option in right_response(question)["choices"].items():
        page.locator(f"label:has(input[name=answer][value='{option}'])").tap()
        with page.expect_navigation():
            page.locator("main form button").tap()
        panel = page.locator("main dl").first.inner_text()
        server.kill()
        decided[decision] = option
        assert server.kept(made) == {question.id: {"choices": decided}}
        server.start()
        page.goto(address)
        expect(page.locator(".taken")).to_have_count(len(decided))
        assert page.locator("main dl").first.inner_text() == panel


def test_opening_and_handing_in_survive_a_kill_and_happen_once(server: Server) -> None:
    """Sent again after the server comes back, each is answered with what stands."""
    hand, module = Hand(server.address), server.course.modules[1]
    assert hand.post("/sign-in", {"sign_in_name": "jonas", "password": PASSWORD}) == 303
    made = uuid4()
    for sitting_id in (made, made, uuid4()):
        sent = {"sitting_id": str(sitting_id)}
        assert hand.post(f"/course/{module.id}/sittings", sent, f"/course/{module.id}") == 303
        server.kill()
        server.start()
    with server.database.reading() as session:
        opened = session.scalars(select(Sitting.id).where(Sitting.module_id == module.id)).all()
        assert opened == [made]
    for _ in range(2):
        page = f"/sittings/{made}/hand-in"
        with suppress(AssertionError):  # handed in: the form is no longer there
            assert hand.post(page, {}) == 303
        server.kill()
        server.start()
    with server.database.reading() as session:
        stored = session.get_one(Sitting, (server.cast.shop.shop_id, made))
        assert stored.result is not None
        kinds = session.scalars(select(JournalEntry.kind)).all()
        assert kinds.count("sitting submitted") == 1
        assert check_journal(session, server.cast.shop.shop_id).whole


@pytest.mark.parametrize("seed", range(3))
def test_killed_in_the_middle_of_answering_everything_acknowledged_is_there(
    server: Server, seed: int
) -> None:
    """Two devices answer as fast as they can; the process dies at some moment nobody chose."""
    chance = Random(seed)
    asked = [
        q for m in server.course.modules for q in m.questions if q.interaction is Interaction.CHOICE
    ][:12]
    made = server.sitting_of(asked)
    with server.database.reading() as session:
        stored = session.get_one(Sitting, (server.cast.shop.shop_id, made))
        items = drawn_form_from_frozen(stored.form).form.questions
    acknowledged: dict[UUID, dict[str, object]] = {}
    hands = [Hand(server.address) for _ in range(2)]
    for hand in hands:
        assert hand.post("/sign-in", {"sign_in_name": "mira", "password": PASSWORD}) == 303

    def answer(hand: Hand, positions: range) -> None:
        with suppress(*GONE):
            for turn in range(200):
                position = positions[turn % len(positions)]
                option = items[position - 1].option_order[turn % 3]
                answer_id, path = uuid4(), f"/sittings/{made}/questions/{position}"
                seen = re.search(r'name="seen_number" value="(\d+)"', hand.get(path))
                assert seen is not None
                sent = {
                    "answer": str(option), "answer_id": str(answer_id), "seen_number": seen[1],
                }  # fmt: skip
                if hand.post(path, sent) == 303:
                    acknowledged[answer_id] = {"chosen": [option]}

    threads = [
        threading.Thread(target=answer, args=(hand, positions))
        for hand, positions in zip(hands, (range(1, 7), range(7, 13)), strict=True)
    ]
    for thread in threads:
        thread.start()
    enough, until = chance.randint(2, 8), time.monotonic() + 60
    while len(acknowledged) < enough and time.monotonic() < until:
        time.sleep(0.01)
    time.sleep(chance.uniform(0, 0.1))
    server.kill()
    for thread in threads:
        thread.join(60)
    with server.database.reading() as session:
        rows = session.scalars(select(Answer).where(Answer.sitting_id == made)).all()
        kept = {row.id: row.response for row in rows}
    assert acknowledged, "nothing was acknowledged before the kill"
    assert {one: kept.get(one) for one in acknowledged} == acknowledged
    # at most the one answer of each device that was under way may be there unacknowledged
    assert len(kept) - len(acknowledged) <= len(hands)
    server.start()
    page = hands[0].get(f"/sittings/{made}/questions/1")
    assert "Question 1 of 12" in page


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
        saved[question.id] = as_saved(question)
        page.context.close()
        assert server.kept(made) == saved
