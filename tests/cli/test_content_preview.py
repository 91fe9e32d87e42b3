"""``academy content preview``: the server an author starts beside the editor."""

from __future__ import annotations

import socket
import subprocess
import sys
import time
import urllib.request
from pathlib import Path
from urllib.error import URLError

import pytest

from academy.settings import PROJECT
from tests.content.course_tree import CourseTree

PATIENCE_S = 30.0


def test_the_preview_is_served_on_this_computer_alone(tmp_path: Path) -> None:
    tree = CourseTree(tmp_path / "content")
    port = _free_port()
    with subprocess.Popen(
        [sys.executable, "-m", "academy", "content", "preview", "--port", str(port), tree.root],
        cwd=PROJECT,
        stdout=subprocess.PIPE,
        text=True,
    ) as process:
        try:
            page = _answer(f"http://127.0.0.1:{port}/preview")
            assert "Before you start" in page
            with pytest.raises(OSError, match="refused"):
                socket.create_connection((_outside_address(), port), timeout=2).close()
        finally:
            process.terminate()
        said = process.stdout.read() if process.stdout else ""
    assert "Stop with Ctrl-C" in said or said == ""


def test_a_port_that_is_taken_is_said_in_a_sentence(tmp_path: Path) -> None:
    tree = CourseTree(tmp_path / "content")
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        port = taken.getsockname()[1]
        ended = subprocess.run(
            [sys.executable, "-m", "academy", "content", "preview", "--port", str(port), tree.root],
            cwd=PROJECT,
            capture_output=True,
            text=True,
            timeout=PATIENCE_S,
            check=False,
        )
    assert ended.returncode == 1
    assert f"Cannot listen on port {port}" in ended.stderr
    assert "Traceback" not in ended.stderr


def _free_port() -> int:
    with socket.socket() as found:
        found.bind(("127.0.0.1", 0))
        port: int = found.getsockname()[1]
        return port


def _outside_address() -> str:
    # All of 127/8 is this computer; another of its addresses is not the one listened on.
    return "127.0.0.2"


def _answer(address: str) -> str:
    until = time.monotonic() + PATIENCE_S
    while True:
        try:
            with urllib.request.urlopen(address, timeout=10) as answer:
                text: str = answer.read().decode()
                return text
        except (URLError, ConnectionError):
            if time.monotonic() > until:
                raise
            time.sleep(0.2)
