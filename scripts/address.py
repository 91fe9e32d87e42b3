"""Where the site listens, checked before anything is installed."""

from __future__ import annotations

import errno
import ipaddress
import os
import socket

from sentences import CannotGoOn


def is_loopback(host: str) -> bool:
    """Return whether only this machine can reach ``host``."""
    if host.lower() == "localhost":
        return True
    try:
        return ipaddress.ip_address(host.strip("[]")).is_loopback
    except ValueError:
        return False


def check_address(host: str, port: int) -> None:
    """Open the address and let it go again.

    Raises
    ------
    CannotGoOn
        When the port is taken or not allowed, or the machine has no such address.
    """
    problems = [_problem(family, place) for family, place in _places(host, port)]
    if None in problems:
        problems = [problem for problem in problems if problem in {None, errno.EADDRINUSE}]
    for problem in problems:
        if problem is not None:
            raise CannotGoOn(_sentence(problem, host, port))


def _places(host: str, port: int) -> list[tuple[int, tuple[object, ...]]]:
    try:
        found = socket.getaddrinfo(host, port, type=socket.SOCK_STREAM, flags=socket.AI_PASSIVE)
    except (socket.gaierror, UnicodeError):
        raise CannotGoOn(
            f"This machine has no address {host!r}; use --host 127.0.0.1 for this machine alone "
            "or --host 0.0.0.0 for the whole network."
        ) from None
    return [(family, place) for family, _, _, _, place in found]


def _problem(family: int, place: tuple[object, ...]) -> int | None:
    """Return the number of the error that stands against listening there, or None."""
    try:
        with socket.socket(family, socket.SOCK_STREAM) as probe:
            if os.name == "nt":
                # Without it Windows lets two programs have one port.
                probe.setsockopt(socket.SOL_SOCKET, getattr(socket, "SO_EXCLUSIVEADDRUSE", -5), 1)
            else:
                # A server that stopped a second ago does not count as one that runs.
                probe.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
            probe.bind(place)
    except OSError as problem:
        return problem.errno or errno.EADDRNOTAVAIL
    return None


def _sentence(problem: int, host: str, port: int) -> str:
    # Windows: 10048 in use, 10013 forbidden (also: held exclusively by another program).
    if problem in {errno.EADDRINUSE, 10048}:
        return (
            f"Port {port} on {host} is taken, perhaps because the academy is running already; "
            f"stop that program or choose another port, for example --port {port % 65535 + 1}."
        )
    if problem in {errno.EACCES, errno.EPERM, 10013}:
        return f"The system does not let you open port {port}; choose another, such as --port 8000."
    return (
        f"This machine cannot listen on {host} ({os.strerror(problem)}); "
        "use --host 127.0.0.1 for this machine alone."
    )
