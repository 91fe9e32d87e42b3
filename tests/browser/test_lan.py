"""A phone on the shop's network: the page it comes to trust the shop from, and the site over HTTPS."""

from __future__ import annotations

import base64
import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from cryptography.hazmat.primitives import hashes, serialization
from playwright.sync_api import Browser, Error, expect

from academy.web.trust import Trusted, create_trust_app
from tests.browser.conftest import SWITCHES, PageFor, served
from tests.browser.hands import accept_invitation
from tests.browser.looking import access_faults, small_targets, width_px
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


def test_the_owner_joins_over_https_and_the_cookie_never_leaves_it(
    browser: Browser, shop: LanShop
) -> None:
    out = shop.program.stdout
    assert out is not None
    link = next(line.strip() for line in out if "/invitations/" in line)
    phone = browser.browser_type.launch(
        executable_path=shutil.which("chromium") or shutil.which("chromium-browser"),
        args=[*SWITCHES, switch_for(shop)],
    )
    try:
        page = phone.new_page()
        accept_invitation(page, link, "Ruth Ansell", "ruth", "Quay Lane Workshop")
        assert page.evaluate("isSecureContext")
        assert page.evaluate("'serviceWorker' in navigator")
        assert "plain HTTP" not in page.content()
        (cookie,) = page.context.cookies()
        assert cookie["name"] == "__Host-academy"
        assert cookie["secure"]
    finally:
        phone.close()


def test_a_phone_that_was_never_told_is_warned(browser: Browser, shop: LanShop) -> None:
    page = browser.new_page()
    with pytest.raises(Error, match="ERR_CERT_AUTHORITY_INVALID"):
        page.goto(f"https://127.0.0.1:{shop.port}/sign-in")
    page.close()
