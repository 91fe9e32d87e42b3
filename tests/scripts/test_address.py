"""An address is tried before anything is installed."""

from __future__ import annotations

import socket
from collections.abc import Iterator

import pytest

from address import check_address, is_loopback
from sentences import CannotGoOn


@pytest.fixture
def taken() -> Iterator[int]:
    with socket.create_server(("127.0.0.1", 0)) as other_program:
        yield other_program.getsockname()[1]


@pytest.mark.parametrize(
    "host", ["127.0.0.1", "127.8.9.1", "localhost", "LOCALHOST", "::1", "[::1]"]
)
def test_only_this_machine_reaches_a_loopback_address(host: str) -> None:
    assert is_loopback(host)


@pytest.mark.parametrize(
    "host", ["0.0.0.0", "::", "192.168.1.20", "shop-pc", "127.0.0.1.example", ""]
)
def test_any_other_address_counts_as_the_network(host: str) -> None:
    assert not is_loopback(host)


def test_a_taken_port_is_named_with_a_way_out(taken: int) -> None:
    with pytest.raises(CannotGoOn, match=f"Port {taken} on 127.0.0.1 is taken.*--port {taken + 1}"):
        check_address("127.0.0.1", taken)


def test_a_port_that_is_taken_here_is_taken_for_the_whole_network(taken: int) -> None:
    with pytest.raises(CannotGoOn, match="is taken"):
        check_address("0.0.0.0", taken)


def test_a_free_port_is_let_go_again() -> None:
    with socket.create_server(("127.0.0.1", 0)) as passing:
        port = passing.getsockname()[1]
    check_address("127.0.0.1", port)
    check_address("127.0.0.1", port)


# 192.0.2.0/24 is set aside for documentation (RFC 5737), 'invalid' for names that never exist (RFC 2606).
@pytest.mark.parametrize("host", ["192.0.2.7", "no such host.invalid", "x" * 80, "999.1.1.1"])
def test_an_address_this_machine_does_not_have_is_refused(host: str) -> None:
    with pytest.raises(CannotGoOn, match=r"This machine .*--host 127\.0\.0\.1"):
        check_address(host, 8000)
