"""One browser for all the tests in this folder, and windows of any width."""

from __future__ import annotations

import shutil
import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Protocol

import pytest
from flask import Flask
from playwright.sync_api import Browser, BrowserContext, Page, sync_playwright
from werkzeug.serving import make_server

from academy.settings import read_settings
from academy.web.app import create_app
from tests.browser.looking import policy_refusals
from tests.support.skips import NO_BROWSER, NOTHING_MAY_BE_SKIPPED

# As root there is no sandbox; the rest keeps the browser from calling home.
SWITCHES = (
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
)


class PageFor(Protocol):
    """Opens a window and gives its page."""

    def __call__(self, width: int = 1280, *, dark: bool = False, touch: bool = False) -> Page: ...


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    """Start the system's browser once."""
    program = shutil.which("chromium") or shutil.which("chromium-browser")
    if program is None:
        if NOTHING_MAY_BE_SKIPPED:
            pytest.fail(NO_BROWSER)
        pytest.skip(NO_BROWSER)
    with sync_playwright() as playwright:
        started = playwright.chromium.launch(executable_path=program, args=list(SWITCHES))
        yield started
        started.close()


@contextmanager
def served(app: Flask) -> Iterator[str]:
    """Serve an application on a free port and give its address."""
    server = make_server("127.0.0.1", 0, app, threaded=True)
    thread = threading.Thread(target=server.serve_forever, daemon=True)
    thread.start()
    try:
        yield f"http://127.0.0.1:{server.server_port}"
    finally:
        server.shutdown()
        thread.join()
        server.server_close()


@pytest.fixture(scope="session")
def serve() -> Callable[[Flask], object]:
    """Give tests the server: ``with serve(app) as address``."""
    return served


@pytest.fixture(scope="session")
def demonstration(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    """Serve the demonstration, empty, and give its address."""
    instance = tmp_path_factory.mktemp("instance")
    settings = read_settings(_elsewhere(instance), base_url="http://127.0.0.1", demo=True)
    with served(create_app(settings)) as address:
        yield address


def _elsewhere(instance: Path) -> dict[str, str]:
    return {"ACADEMY_INSTANCE": str(instance)}


@pytest.fixture
def page_for(browser: Browser) -> Iterator[PageFor]:
    """Open windows; whatever the content policy refused in one of them fails the test."""
    opened: list[BrowserContext] = []
    refused: list[list[str]] = []

    def open_page(width: int = 1280, *, dark: bool = False, touch: bool = False) -> Page:
        context = browser.new_context(
            viewport={"width": width, "height": 640 if touch else 900},
            color_scheme="dark" if dark else "light",
            has_touch=touch,
            is_mobile=touch,
        )
        opened.append(context)
        page = context.new_page()
        refused.append(policy_refusals(page))
        return page

    yield open_page
    for context in opened:
        context.close()
    assert [message for heard in refused for message in heard] == []
