"""Where this machine is reached: its own addresses, asked of the system anew each time."""

from __future__ import annotations

import re
import socket
from urllib.parse import urlsplit

import click

from academy.settings import is_loopback

EVERY_ADDRESS = frozenset({"0.0.0.0", "::"})
HOST_NAME = re.compile(r"[a-z0-9]([a-z0-9-]{0,61}[a-z0-9])?")  # RFC 1123, section 2.1


class CannotServe(click.ClickException):
    """A reason not to start, in one sentence."""


def address(host: str, port: int, scheme: str = "http") -> str:
    """Return the address people type; for 'every address' the one this machine has on the network."""
    shown = outside_address() or "127.0.0.1" if host in EVERY_ADDRESS else host
    return f"{scheme}://[{shown}]:{port}" if ":" in shown else f"{scheme}://{shown}:{port}"


def outside_address() -> str:
    """Return this machine's own address on the network, or nothing when it is on none."""
    # connecting a datagram socket sends nothing; it only asks which own address would be used
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe:
        try:
            probe.connect(("192.0.2.1", 9))  # a documentation address, RFC 5737
        except OSError:
            return ""
        found = str(probe.getsockname()[0])
        return "" if is_loopback(found) else found


def names_of(base_url: str, host: str) -> tuple[str, ...]:
    """Return every name and address a phone may type for this machine, the usual one first."""
    usual = urlsplit(base_url).hostname or host
    own = [outside_address(), _own_name()] if host in EVERY_ADDRESS else [host]
    return tuple(dict.fromkeys(filter(None, [usual, *own, "127.0.0.1", "localhost"])))


def refuse_taken(host: str, port: int) -> None:
    """Raise CannotServe unless the port can be opened; without this two servers could share it."""
    family = socket.AF_INET6 if ":" in host else socket.AF_INET
    with socket.socket(family, socket.SOCK_STREAM) as probe:
        probe.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            probe.bind((host, port))
        except OSError as fault:
            raise cannot_listen(host, port, fault) from None


def cannot_listen(host: str, port: int, fault: OSError) -> CannotServe:
    """Return the sentence for an address that cannot be listened on."""
    return CannotServe(f"Cannot listen on {host}:{port}: {fault.strerror or fault}.")


def _own_name() -> str:
    """Return the name this machine answers to on the local network (multicast DNS, RFC 6762)."""
    name = socket.gethostname().split(".")[0].lower()
    return f"{name}.local" if HOST_NAME.fullmatch(name) and name != "localhost" else ""
