"""A phone on the shop's network: the page it comes to trust the shop from, and the site over HTTPS."""

from __future__ import annotations

import base64
import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest
from cryptography.hazmat.primitives import hashes, serialization
from playwright.sync_api import Browser, Error, Page, expect

from academy.settings import read_settings
from academy.store.database import open_database
from academy.store.schema import upgrade
from academy.web.trust import Trusted, create_trust_app
from tests.browser.conftest import SWITCHES, PageFor, served
from tests.browser.hands import accept_invitation, sign_in
from tests.browser.looking import access_faults, small_targets, width_px
from tests.support.cast import PASSWORD as CAST_PASSWORD
from tests.support.cast import settle
from tests.support.lan_shop import LanShop, started

FINGERPRINT = ":".join(["A9"] * 32)


@pytest.fixture
def shop(tmp_path: Path) -> Iterator[LanShop]:
    with started(tmp_path) as running:
        yield running.wait()


def switch_for(shop: LanShop) -> str:
    """Return the switch that lets the browser trust this site's key and no other."""
    key = shop.certificate().public_key()
    info = key.public_bytes(
        serialization.Encoding.DER, serialization.PublicFormat.SubjectPublicKeyInfo
    )
    digest = hashes.Hash(hashes.SHA256())
    digest.update(info)
    pin = base64.b64encode(digest.finalize()).decode()
    return f"--ignore-certificate-errors-spki-list={pin}"


@pytest.mark.parametrize("dark", [False, True])
def test_a_new_phone_is_told_what_to_do(page_for: PageFor, dark: bool) -> None:
    told = Trusted("https://192.168.1.20:8000", FINGERPRINT, b"der")
    with served(create_trust_app(lambda: told)) as address:
        page = page_for(320, touch=True, dark=dark)
        page.goto(f"{address}/academy")
        assert access_faults(page) == []
        assert width_px(page) <= 320
        assert small_targets(page) == []
        assert page.locator("code", has_text="A9 A9 A9 A9").count() == 8
        opens = page.get_by_role("link", name="Open the academy")
        expect(opens).to_have_attribute("href", told.address)
        expect(page.locator("main")).to_contain_text(told.address)
        with page.expect_download() as download:
            page.get_by_role("link", name="Download the authority's certificate").click()
        assert download.value.suggested_filename == "academy-authority.crt"


@contextmanager
def trusting(browser: Browser, shop: LanShop) -> Iterator[Page]:
    """Open a page of a browser that trusts this shop."""
    program = shutil.which("chromium") or shutil.which("chromium-browser")
    phone = browser.browser_type.launch(executable_path=program, args=[*SWITCHES, switch_for(shop)])
    try:
        yield phone.new_page()
    finally:
        phone.close()


def test_over_https_the_panel_pages_are_kept_for_when_the_signal_drops(
    browser: Browser, tmp_path: Path
) -> None:
    """What plain HTTP cannot do: the browser takes the worker that keeps pages."""
    database = open_database(read_settings({"ACADEMY_INSTANCE": str(tmp_path)}).database_url)
    upgrade(database)
    with database.writing() as session:
        settle(session)
    database.close()
    with started(tmp_path) as shop, trusting(browser, shop.wait()) as page:
        address = f"https://127.0.0.1:{shop.port}"
        sign_in(page, address, "jonas", CAST_PASSWORD)
        page.wait_for_url(lambda url: "/sign-in" not in url)
        scope = page.evaluate(
            """async (worker) => {
                await navigator.serviceWorker.register(worker, { scope: "/" });
                return (await navigator.serviceWorker.ready).scope;
            }""",
            "/practicals/offline-worker.js",
        )
        assert scope == f"{address}/"


def test_the_owner_joins_over_https_and_the_cookie_never_leaves_it(
    browser: Browser, shop: LanShop
) -> None:
    out = shop.program.stdout
    assert out is not None
    link = next(line.strip() for line in out if "/invitations/" in line)
    with trusting(browser, shop) as page:
        accept_invitation(page, link, "Ruth Ansell", "ruth", "Quay Lane Workshop")
        assert page.evaluate("isSecureContext")
        assert page.evaluate("'serviceWorker' in navigator")
        assert "plain HTTP" not in page.content()
        (cookie,) = page.context.cookies()
        assert cookie["name"] == "__Host-academy"
        assert cookie["secure"]


def test_a_phone_that_was_never_told_is_warned(browser: Browser, shop: LanShop) -> None:
    page = browser.new_page()
    with pytest.raises(Error, match="ERR_CERT_AUTHORITY_INVALID"):
        page.goto(f"https://127.0.0.1:{shop.port}/sign-in")
    page.close()
