"""--lan as a phone sees it: a site over TLS that the shop's own authority vouches for."""

from __future__ import annotations

import http.client
import ssl
import sys
import time
from collections.abc import Iterator
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path
from urllib.request import urlopen

import pytest
from click.testing import CliRunner, Result
from cryptography import x509
from cryptography.hazmat.primitives import hashes

from academy.cli import main
from academy.cli.addresses import CannotServe
from academy.cli.serve import _refuse_mixture
from academy.cli.shop_network import ShopNetwork
from academy.keys.authority import fingerprint
from academy.services.first_start import Started
from academy.settings import read_settings
from tests.support.lan_shop import LanShop, started, two_free_ports

pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="Windows has no process groups")


@pytest.fixture(scope="module")
def shop(tmp_path_factory: pytest.TempPathFactory) -> Iterator[LanShop]:
    with started(tmp_path_factory.mktemp("lan")) as running:
        yield running.wait()


def plain(shop: LanShop, path: str) -> bytes:
    """Return what the page for new phones answers over plain HTTP."""
    with urlopen(f"http://127.0.0.1:{shop.port + 1}{path}", timeout=20) as reply:
        body: bytes = reply.read()
    return body


def test_a_phone_that_trusts_the_authority_reads_the_site(shop: LanShop) -> None:
    trusting = ssl.create_default_context(cafile=str(shop.authority))
    line = http.client.HTTPSConnection("127.0.0.1", shop.port, timeout=20, context=trusting)
    line.request("GET", "/sign-in")
    reply = line.getresponse()
    assert reply.status == 200
    cookie = reply.headers["Set-Cookie"]
    assert cookie.startswith("__Host-academy=")
    assert "Secure" in cookie
    # a new phone must still reach the plain page under the same name
    assert reply.headers["Strict-Transport-Security"] is None
    line.close()


def test_a_phone_that_does_not_trust_it_is_refused(shop: LanShop) -> None:
    line = http.client.HTTPSConnection("127.0.0.1", shop.port, timeout=20)
    with pytest.raises(ssl.SSLCertVerificationError, match="unable to get local issuer"):
        line.request("GET", "/sign-in")


def test_another_host_is_refused(shop: LanShop) -> None:
    assert shop.certificate("localhost").not_valid_after_utc > datetime.now(UTC)
    with pytest.raises(ssl.SSLCertVerificationError, match="mismatch"):
        shop.certificate("elsewhere.local")


def test_the_plain_page_gives_the_authority_its_fingerprint_and_nothing_else(
    shop: LanShop,
) -> None:
    page = plain(shop, "/").decode()
    for pairs in fingerprint(shop.authority).split(":")[::4]:
        assert pairs in page
    assert f'href="https://127.0.0.1:{shop.port}"' in page
    installed = x509.load_der_x509_certificate(plain(shop, "/academy-authority.crt"))
    assert installed.fingerprint(hashes.SHA256()).hex(":").upper() == fingerprint(shop.authority)
    for elsewhere in ("/sign-in", "/authority.key", "/tls/authority.key", "/..%2Fauthority.key"):
        answer = plain(shop, elsewhere)
        assert b"Let this phone trust" in answer
        assert b"PRIVATE KEY" not in answer


def test_ctrl_c_ends_it_with_a_word_and_frees_the_port(tmp_path: Path) -> None:
    with started(tmp_path) as running:
        said = running.wait().stop()
    assert running.program.returncode == 0
    assert said.splitlines()[-1] == "Stopped."
    assert "Traceback" not in said
    assert "QR" not in said
    # the address, the code to scan, and the fingerprint were said
    assert f"https://127.0.0.1:{running.port}" in said
    assert "▄" in said
    assert fingerprint(running.authority).replace(":", " ")[:23] in said


def test_ctrl_c_before_the_site_is_up_ends_it_as_quietly(tmp_path: Path) -> None:
    with started(tmp_path) as running:
        out = running.program.stdout
        assert out is not None
        assert out.readline().startswith("The academy is at")
        said = running.stop()
    assert "Traceback" not in said
    assert "Stopped." in said


def test_the_certificate_is_renewed_while_phones_go_on(tmp_path: Path) -> None:
    """By a clock 380 days back the leaf has 16 days left; today it is renewed, and stays trusted."""
    today = tmp_path / "today"
    script = str(Path(__file__).parents[1] / "support" / "lan_shop.py")
    with started(tmp_path / "shop", script, "127.0.0.1", "PORT", str(today)) as running:
        before, trusted = running.wait().certificate(), fingerprint(running.authority)
        today.touch()
        deadline = time.monotonic() + 60
        # each look is a phone's: it trusts the same authority and is never refused
        while (after := running.certificate()).serial_number == before.serial_number:
            assert time.monotonic() < deadline
            time.sleep(0.2)
        assert fingerprint(running.authority) == trusted
        said = running.stop()
    assert (after.not_valid_after_utc - before.not_valid_after_utc).days in {379, 380}
    assert "The certificate was renewed" in said


def test_another_address_gets_a_new_certificate_and_the_same_authority(tmp_path: Path) -> None:
    settings = read_settings({"ACADEMY_INSTANCE": str(tmp_path)}, base_url="https://192.168.1.5:1")
    network = ShopNetwork(settings, "192.168.1.5", 1, False, lambda: datetime.now(UTC))
    assert network.refresh()
    assert not network.refresh()
    trusted = network.authority
    network.host = "10.0.0.44"
    assert network.refresh()
    assert network.settings.base_url == "https://10.0.0.44:1"
    assert network.authority == trusted
    assert network.address_of_the_page() == "http://10.0.0.44:2"


def serve(tmp_path: Path, *arguments: str, **surroundings: str) -> Result:
    """Run the command as somebody who gets it wrong."""
    content = tmp_path / "no-course"
    content.mkdir(exist_ok=True)
    given = {"ACADEMY_INSTANCE": str(tmp_path / "instance"), "ACADEMY_CONTENT": str(content)}
    asked = ["serve", "--lan", "--empty", "--host", "127.0.0.1", *arguments]
    return CliRunner().invoke(main, asked, env=given | surroundings)


def test_a_taken_port_gets_a_sentence(tmp_path: Path, shop: LanShop) -> None:
    for port in (shop.port, shop.port + 1):
        refused = serve(tmp_path, "--port", str(port))
        assert refused.exit_code == 1
        assert refused.output.startswith(f"Error: Cannot listen on 127.0.0.1:{port}")


def test_the_highest_port_has_none_after_it(tmp_path: Path) -> None:
    assert "choose a lower --port" in serve(tmp_path, "--port", "65535").output


def test_a_plain_address_contradicts_it(tmp_path: Path) -> None:
    refused = serve(tmp_path, ACADEMY_BASE_URL="http://academy.example")
    assert "ACADEMY_BASE_URL begins with http://" in refused.output


def test_keys_that_cannot_be_used_get_a_sentence(tmp_path: Path) -> None:
    (tmp_path / "instance").mkdir()
    (tmp_path / "instance" / "tls").write_text("a file where the folder should be", "utf-8")
    refused = serve(tmp_path, "--port", str(two_free_ports()))
    assert refused.exit_code == 1
    assert "cannot be used" in refused.output
    assert "readable and writable" in refused.output


def test_without_a_network_it_says_so(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("academy.cli.shop_network.outside_address", lambda: "")
    refused = serve(tmp_path, "--host", "0.0.0.0", "--port", str(two_free_ports()))
    assert "no address on a network" in refused.output


def test_the_demonstrations_known_passwords_need_to_be_allowed_out() -> None:
    with pytest.raises(CannotServe, match="--demo"):
        _refuse_mixture(Started(demo=True), empty=False, demo=False, host="0.0.0.0")
    _refuse_mixture(Started(demo=True), empty=False, demo=True, host="0.0.0.0")


def test_the_settings_of_an_own_authority_do_not_shut_the_plain_page_out() -> None:
    public = read_settings(base_url="https://academy.example")
    assert public.strict_transport
    assert not replace(public, own_authority=True).strict_transport
