"""The server is killed between any two steps and in the middle of one: nothing lost, nothing doubled."""

from __future__ import annotations

import http.client
import http.cookiejar
import re
import threading
import time
import urllib.error
import urllib.parse
import urllib.request
from collections.abc import Iterator, Mapping
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, field
from pathlib import Path
from uuid import UUID, uuid4

import pytest

from academy.domain.practical.stages import Stage, stages_of
from academy.services.journal import check_journal
from academy.store.database import Database, open_database
from academy.store.queries.practicals import StoredPractical, stored_practical
from tests.support.cast import PASSWORD, Cast, settle
from tests.support.clock import NOW
from tests.support.course import a_task
from tests.support.killable_server import KillableServer, free_port
from tests.support.morning import verify_for_the_day
from tests.support.panel_forms import WITH_PICTURE, a_picture, stage_form

TOKEN = re.compile(r'name="csrf_token" value="([^"]+)"')
VERSION = re.compile(r'name="version" value="(\d+)"')
Gone = (urllib.error.URLError, http.client.HTTPException, ConnectionError)


@dataclass
class Phone:
    """A browser without scripts: it keeps its cookies and sends forms."""

    address: str
    jar: http.cookiejar.CookieJar = field(default_factory=http.cookiejar.CookieJar)

    def get(self, path: str) -> str:
        return self._open(urllib.request.Request(self.address + path))[1]

    def post(self, path: str, sent: Mapping[str, str], picture: bytes | None = None) -> int:
        """Send a form with the token of the page it stands on; return the status."""
        page = self.get(path)
        token = TOKEN.search(page)
        assert token is not None
        return self._send(path, {"csrf_token": token[1], **sent}, picture)

    def sign_in(self, name: str) -> None:
        assert self.post("/sign-in", {"sign_in_name": name, "password": PASSWORD}) == 303

    def _send(self, path: str, sent: Mapping[str, str], picture: bytes | None) -> int:
        boundary = uuid4().hex
        parts = [
            f'--{boundary}\r\nContent-Disposition: form-data; name="{name}"\r\n\r\n{value}\r\n'
            for name, value in sent.items()
        ]
        body = "".join(parts).encode()
        if picture is not None:
            head = 'name="photograph"; filename="p.jpg"\r\nContent-Type: image/jpeg'
            body += f"--{boundary}\r\nContent-Disposition: form-data; {head}\r\n\r\n".encode()
            body += picture + b"\r\n"
        body += f"--{boundary}--\r\n".encode()
        kind = {"Content-Type": f"multipart/form-data; boundary={boundary}"}
        return self._open(urllib.request.Request(self.address + path, body, kind))[0]

    def _open(self, request: urllib.request.Request) -> tuple[int, str]:
        opener = urllib.request.build_opener(
            urllib.request.HTTPCookieProcessor(self.jar), _NotFollowed()
        )
        try:
            with opener.open(request, timeout=30) as answer:
                return answer.status, answer.read().decode()
        except urllib.error.HTTPError as answer:
            return answer.code, answer.read().decode()


class _NotFollowed(urllib.request.HTTPRedirectHandler):
    """A redirect is an answer like any other."""

    def redirect_request(self, *_arguments: object) -> None:
        return None


@dataclass
class Scene:
    """A shop, its server, and a supervisor's phone at one open practical."""

    server: KillableServer
    cast: Cast
    phone: Phone
    id: UUID
    database: Database

    @property
    def stored(self) -> StoredPractical:
        with self.database.reading() as session:
            found = stored_practical(session, self.cast.shop.shop_id, self.id)
        assert found is not None
        return found

    def path(self, stage: Stage) -> str:
        return f"/practicals/{self.id}/stages/{stage.value}"

    def form(self, stage: Stage) -> dict[str, str]:
        return stage_form(stage.value, self.stored.practical.version)

    def picture(self, stage: Stage) -> bytes | None:
        return a_picture(len(stage.value)) if stage.value in WITH_PICTURE else None

    def record(self, stage: Stage) -> int:
        return self.phone.post(self.path(stage), self.form(stage), self.picture(stage))


@pytest.fixture
def scene(sqlite_url: str, tmp_path: Path) -> Iterator[Scene]:
    database = open_database(sqlite_url)
    with database.writing() as session:
        settled = settle(session)
        verify_for_the_day(session, settled.shop, NOW)
    port = free_port()
    server = KillableServer(
        port=port,
        module=("tests.support.panel_server", str(tmp_path / "instance"), sqlite_url, str(port)),
    )
    server.start()
    phone = Phone(server.address)
    phone.sign_in("jonas")
    practical_id = uuid4()
    chosen = {
        "practical_id": str(practical_id),
        "trainee_id": str(settled.shop.trainee.person_id),
        "task_id": a_task().id,
        "section_id": str(settled.shop.bench.section_ids[0]),
        "gauge_id": str(settled.shop.bench.gauge_id),
        "kind": "assessed",
    }
    token = TOKEN.search(phone.get("/practicals/new"))
    assert token is not None
    assert phone._send("/practicals/", {"csrf_token": token[1], **chosen}, None) == 303
    yield Scene(server, settled, phone, practical_id, database)
    server.kill()
    database.close()


def test_killed_between_any_two_steps_and_resumed(scene: Scene) -> None:
    """After each saved step the process dies; the next one shows all of it and goes on."""
    stages = stages_of(a_task())
    for done, stage in enumerate(stages):
        assert scene.record(stage) == 303
        scene.server.kill()
        scene.server.start()
        assert scene.stored.practical.version == done + 1
        if stage is not stages[-1]:
            following = stages[done + 1]
            page = scene.phone.get(scene.path(following))
            assert VERSION.search(page)[1] == str(done + 1)  # type: ignore[index]
    assert [step.stage for step in scene.stored.practical.steps] == list(stages)
    assert len(scene.stored.photographs) == 2
    with scene.database.reading() as session:
        assert check_journal(session, scene.cast.shop.shop_id).whole


@pytest.mark.parametrize("wait_s", [0.0, 0.004, 0.012, 0.04])
def test_killed_in_the_middle_of_a_step_and_sent_again(scene: Scene, wait_s: float) -> None:
    """Whether the answer came or not, the same form sent again leaves exactly one step."""
    for stage in (Stage.FIRST_LOOK, Stage.GAUGE):
        assert scene.record(stage) == 303
    sent, token = scene.form(Stage.BEFORE), TOKEN.search(scene.phone.get(scene.path(Stage.BEFORE)))
    assert token is not None
    form = {"csrf_token": token[1], **sent}

    def send() -> int | None:
        try:
            return scene.phone._send(scene.path(Stage.BEFORE), form, None)
        except Gone:
            return None

    with ThreadPoolExecutor(1) as pool:
        answer = pool.submit(send)
        time.sleep(wait_s)
        scene.server.kill()
        answered = answer.result(30)
    if answered == 303:
        assert scene.stored.practical.version == 3  # what was acknowledged is there
    scene.server.start()
    assert scene.phone.post(scene.path(Stage.BEFORE), sent) == 303
    assert [step.stage for step in scene.stored.practical.steps] == [
        Stage.FIRST_LOOK,
        Stage.GAUGE,
        Stage.BEFORE,
    ]
    read = scene.stored.practical.before
    assert read is not None
    assert read.count == 6


def test_two_devices_at_once_leave_one_step_and_a_sentence(scene: Scene) -> None:
    """The same supervisor on two phones: one is recorded, the other hears why not."""
    other = Phone(scene.server.address)
    other.sign_in("jonas")
    begin = threading.Barrier(2)

    def send(phone: Phone) -> tuple[int, str]:
        path, sent = scene.path(Stage.FIRST_LOOK), scene.form(Stage.FIRST_LOOK)
        token = TOKEN.search(phone.get(path))
        assert token is not None
        begin.wait(10)
        status = phone._send(path, {"csrf_token": token[1], **sent}, a_picture())
        return status, phone.get(path)

    with ThreadPoolExecutor(2) as pool:
        answers = [pool.submit(send, phone) for phone in (scene.phone, other)]
        statuses = sorted(answer.result(30)[0] for answer in answers)
    assert statuses == [303, 422]
    assert scene.stored.practical.version == 1
