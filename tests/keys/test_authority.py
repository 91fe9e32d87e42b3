"""A shop's own authority: what a phone that trusts it accepts, and when it is renewed."""

from __future__ import annotations

import os
import socket
import ssl
import threading
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from cryptography import x509
from cryptography.hazmat.primitives import hashes

from academy.keys.authority import (
    TlsFiles,
    _write_leaf,
    fingerprint,
    for_phones,
    keep_certificate,
)

NAMES = ("127.0.0.1", "shop-pc.local")
TODAY = datetime.now(UTC)


def greet(files: TlsFiles, name: str, *, trusting: Path | None) -> str:
    """Serve one connection and return the protocol a real client agrees on."""
    serving = ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER)
    serving.load_cert_chain(files.certificate, files.key)
    with socket.create_server(("127.0.0.1", 0)) as listening:

        def answer() -> None:
            plain, _address = listening.accept()
            try:
                serving.wrap_socket(plain, server_side=True).close()
            except OSError:
                plain.close()

        thread = threading.Thread(target=answer)
        thread.start()
        client = ssl.create_default_context(cafile=str(trusting) if trusting else None)
        try:
            with (
                socket.create_connection(listening.getsockname()) as plain,
                client.wrap_socket(plain, server_hostname=name) as secure,
            ):
                return str(secure.version())
        finally:
            thread.join()


@pytest.mark.parametrize("name", NAMES)
def test_a_client_that_trusts_the_authority_trusts_the_site(tmp_path: Path, name: str) -> None:
    files = keep_certificate(tmp_path, NAMES, TODAY)
    assert greet(files, name, trusting=files.authority) == "TLSv1.3"


def test_a_client_that_does_not_trust_it_refuses(tmp_path: Path) -> None:
    files = keep_certificate(tmp_path, NAMES, TODAY)
    with pytest.raises(ssl.SSLCertVerificationError):
        greet(files, "127.0.0.1", trusting=None)


def test_another_name_is_refused(tmp_path: Path) -> None:
    files = keep_certificate(tmp_path, NAMES, TODAY)
    with pytest.raises(ssl.SSLCertVerificationError):
        greet(files, "elsewhere.local", trusting=files.authority)


@pytest.mark.skipif(os.name == "nt", reason="Windows has no such permissions")
def test_nobody_else_reads_the_keys(tmp_path: Path) -> None:
    keep_certificate(tmp_path / "tls", NAMES, TODAY)
    assert {path.stat().st_mode & 0o077 for path in (tmp_path / "tls").iterdir()} == {0}


def test_a_leaf_lasts_no_longer_than_phones_accept(tmp_path: Path) -> None:
    files = keep_certificate(tmp_path, NAMES, TODAY)
    leaf = x509.load_pem_x509_certificate(files.certificate.read_bytes())
    assert leaf.not_valid_after_utc - leaf.not_valid_before_utc <= timedelta(days=397)


@pytest.mark.parametrize(
    ("days", "names", "renewed"),
    [
        pytest.param(1, NAMES, False, id="the next day"),
        pytest.param(365, NAMES, False, id="31 days left"),
        pytest.param(367, NAMES, True, id="29 days left"),
        pytest.param(1, ("192.168.7.7",), True, id="another address"),
    ],
)
def test_the_site_is_renewed_in_time_and_the_authority_stays(
    tmp_path: Path, days: int, names: tuple[str, ...], renewed: bool
) -> None:
    files = keep_certificate(tmp_path, NAMES, TODAY)
    before, trusted = files.certificate.read_bytes(), fingerprint(files.authority)
    keep_certificate(tmp_path, names, TODAY + timedelta(days=days))
    assert (files.certificate.read_bytes() != before) is renewed
    assert fingerprint(files.authority) == trusted


def test_the_authority_vouches_for_private_addresses_alone(tmp_path: Path) -> None:
    """A leaf signed with its key for a public name is refused by a client that trusts it."""
    files = keep_certificate(tmp_path, NAMES, TODAY)
    _write_leaf(files, tmp_path / "authority.key", ["bank.example", "127.0.0.1"], TODAY)
    with pytest.raises(ssl.SSLCertVerificationError, match="permitted subtree violation"):
        greet(files, "bank.example", trusting=files.authority)


def test_a_shop_with_a_public_name_gets_an_authority_for_that_name_too(tmp_path: Path) -> None:
    inside = keep_certificate(tmp_path, NAMES, TODAY)
    trusted = fingerprint(inside.authority)
    files = keep_certificate(tmp_path, ("academy.example", "198.51.100.7"), TODAY)
    assert fingerprint(files.authority) != trusted
    assert greet(files, "academy.example", trusting=files.authority) == "TLSv1.3"
    trusted = fingerprint(files.authority)
    keep_certificate(tmp_path, ("10.0.0.9", "academy.example"), TODAY)
    assert fingerprint(files.authority) == trusted


def test_what_phones_install_is_the_authority_and_no_key(tmp_path: Path) -> None:
    files = keep_certificate(tmp_path, NAMES, TODAY)
    installed = x509.load_der_x509_certificate(for_phones(files.authority))
    digest = installed.fingerprint(hashes.SHA256()).hex().upper()
    assert fingerprint(files.authority).replace(":", "") == digest


def test_a_folder_that_cannot_be_used_is_not_passed_over(tmp_path: Path) -> None:
    (tmp_path / "authority.pem").mkdir()
    with pytest.raises(OSError, match=r"authority\.pem"):
        keep_certificate(tmp_path, NAMES, TODAY)


def test_a_file_that_was_broken_is_made_anew(tmp_path: Path) -> None:
    files = keep_certificate(tmp_path, NAMES, TODAY)
    files.key.write_text("nonsense")
    again = keep_certificate(tmp_path, NAMES, TODAY)
    assert greet(again, "127.0.0.1", trusting=again.authority) == "TLSv1.3"
