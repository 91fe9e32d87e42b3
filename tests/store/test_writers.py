"""Two who write at once: nobody's update is lost and nobody is turned away."""

from __future__ import annotations

import subprocess
import sys
import threading
import time
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from contextlib import contextmanager
from pathlib import Path
from uuid import UUID

import pytest

from academy.services import people
from academy.services.journal import check_journal
from academy.store.database import Database
from academy.store.write_lock import WriteLock
from tests.store.writers import append_many
from tests.support.clock import NOW

ROOT = Path(__file__).resolve().parents[2]
EACH = 15


@pytest.fixture
def shop_id(database: Database) -> UUID:
    """Return a shop whose journal has one entry."""
    with database.writing() as session:
        return people.open_shop(session, name="A shop", now=NOW)


@contextmanager
def another_process(*command: str) -> Iterator[subprocess.Popen[str]]:
    """Start a Python that says 'ready' and waits for a line."""
    with subprocess.Popen(
        [sys.executable, *command],
        cwd=ROOT, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True,
    ) as process:  # fmt: skip
        assert process.stdout is not None
        assert process.stdout.readline() == "ready\n"
        yield process


def let_go(process: subprocess.Popen[str]) -> None:
    """Tell a waiting process to go on."""
    assert process.stdin is not None
    process.stdin.write("go\n")
    process.stdin.flush()


def test_two_threads_lose_nothing(database: Database, shop_id: UUID) -> None:
    with ThreadPoolExecutor(2) as pool:
        for done in [pool.submit(append_many, database, shop_id, EACH) for _ in range(2)]:
            done.result(timeout=60)
    with database.reading() as session:
        check = check_journal(session, shop_id)
    assert (check.entries, check.whole) == (1 + 2 * EACH, True)


def test_two_processes_lose_nothing(database: Database, database_url: str, shop_id: UUID) -> None:
    arguments = ("-m", "tests.store.writers", database_url, str(shop_id), str(EACH))
    with another_process(*arguments) as one, another_process(*arguments) as other:
        let_go(one)
        let_go(other)
        append_many(database, shop_id, EACH)
        assert [process.wait(timeout=60) for process in (one, other)] == [0, 0]
    with database.reading() as session:
        check = check_journal(session, shop_id)
    assert (check.entries, check.whole) == (1 + 3 * EACH, True)


def test_a_journal_is_whole_whenever_it_is_checked_while_others_write(
    database: Database, shop_id: UUID
) -> None:
    with ThreadPoolExecutor(1) as pool:
        writing = pool.submit(append_many, database, shop_id, 3 * EACH)
        while not writing.done():
            with database.reading() as session:
                assert check_journal(session, shop_id).whole
        writing.result()


class TestTheWriteLock:
    def test_a_second_thread_waits_for_the_first(self, tmp_path: Path) -> None:
        lock, inside = WriteLock(tmp_path / "lock"), threading.Event()

        def enter() -> None:
            with lock.held():
                inside.set()

        thread = threading.Thread(target=enter)
        with lock.held():
            thread.start()
            assert not inside.wait(0.1)
        assert inside.wait(10)
        thread.join()

    def test_two_locks_on_one_file_exclude_one_another(self, tmp_path: Path) -> None:
        one, other = (WriteLock(tmp_path / "lock") for _ in range(2))
        inside = threading.Event()

        def enter() -> None:
            with other.held():
                inside.set()

        thread = threading.Thread(target=enter)
        with one.held():
            thread.start()
            assert not inside.wait(0.1)
        assert inside.wait(10)
        thread.join()

    def test_another_process_waits_too(self, tmp_path: Path) -> None:
        code = (
            "import sys; from pathlib import Path; from academy.store.write_lock import WriteLock\n"
            "print('ready', flush=True); sys.stdin.readline()\n"
            "with WriteLock(Path(sys.argv[1])).held(): print('inside', flush=True)\n"
        )
        path = tmp_path / "lock"
        with another_process("-c", code, str(path)) as process:
            with WriteLock(path).held():
                let_go(process)
                time.sleep(0.2)
                assert process.poll() is None
            assert process.stdout is not None
            assert process.stdout.readline() == "inside\n"
            assert process.wait(timeout=30) == 0

    def test_a_process_that_dies_inside_lets_the_next_one_in(self, tmp_path: Path) -> None:
        code = (
            "import os, sys; from pathlib import Path; from academy.store.write_lock import WriteLock\n"
            "held = WriteLock(Path(sys.argv[1])).held(); held.__enter__()\n"
            "print('ready', flush=True); sys.stdin.readline(); os._exit(9)\n"
        )
        path = tmp_path / "lock"
        with another_process("-c", code, str(path)) as process:
            let_go(process)
            with WriteLock(path).held():
                assert process.wait(timeout=30) == 9

    def test_what_fails_inside_leaves_the_lock_free(self, tmp_path: Path) -> None:
        lock = WriteLock(tmp_path / "lock")

        def fail() -> None:
            with lock.held():
                raise ConnectionError

        for _ in range(2):
            with pytest.raises(ConnectionError):
                fail()
        with lock.held():
            pass
