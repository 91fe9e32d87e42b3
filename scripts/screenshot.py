#!/usr/bin/env python3
"""Take the README's screenshot: the board of a fresh demo shop (for maintainers, run in .venv-test)."""

from __future__ import annotations

import shutil
import tempfile
import threading
from datetime import UTC, datetime
from pathlib import Path

from playwright.sync_api import sync_playwright
from werkzeug.serving import make_server

from academy.services.demo_accounts import ACCOUNTS
from academy.services.first_start import first_start
from academy.settings import read_settings
from academy.store.schema import upgrade
from academy.web.app import create_app
from academy.web.context import EXTENSION

TARGET = Path(__file__).with_name("screenshot.png")


def main() -> None:
    """Serve a demo shop in a temporary folder and photograph the owner's board."""
    with tempfile.TemporaryDirectory() as folder:
        app = create_app(read_settings({"ACADEMY_INSTANCE": folder}, demo=True))
        composed = app.extensions[EXTENSION]
        upgrade(composed.database)
        with composed.database.writing() as session:
            first_start(
                session,
                course=composed.library.course,
                empty=False,
                now=datetime.now(UTC),
                photographs=composed.photographs,
            )
        server = make_server("127.0.0.1", 0, app, threaded=True)
        threading.Thread(target=server.serve_forever, daemon=True).start()
        _photograph(f"http://127.0.0.1:{server.server_port}")
        server.shutdown()
        composed.database.close()
    print(f"wrote {TARGET}")


def _photograph(address: str) -> None:
    owner = next(account for account in ACCOUNTS if account.sign_in_name == "owner")
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(
            executable_path=shutil.which("chromium"), args=["--no-sandbox", "--disable-gpu"]
        )
        page = browser.new_page(viewport={"width": 1280, "height": 860})
        page.goto(f"{address}/sign-in")
        page.get_by_label("Your sign-in name").fill(owner.sign_in_name)
        page.get_by_label("Password").fill(owner.password)
        page.get_by_role("button", name="Sign in").click()
        page.wait_for_load_state("networkidle")  # the marks are drawn from a file of their own
        page.screenshot(path=str(TARGET))
        browser.close()


if __name__ == "__main__":
    main()
