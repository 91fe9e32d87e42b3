"""``academy serve --lan``: HTTPS on the shop's network, with the shop's own authority.

The site runs in a process of its own.  This one keeps the certificate, looks
once a minute whether it has to be renewed or the machine has another address,
and serves the page from which a phone comes to trust the authority.
"""

from __future__ import annotations

import multiprocessing
import signal
import sys
import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from typing import Any

from flask import Flask
from granian.constants import Interfaces, SSLProtocols
from granian.server.mp import MPServer

from academy.cli.addresses import CannotServe
from academy.cli.shop_network import ShopNetwork
from academy.documents.qr import qr_text
from academy.settings import Settings
from academy.web.trust import create_trust_app

THREADS = 4
CHECK_EVERY_S = 60.0
SITE_STARTS_S = 12.0  # the old process goes on serving while the new one starts
STOPS_WITHIN_S = 10


@dataclass(slots=True)
class Site:
    """Makes the application in the process that serves it."""

    settings: Settings

    def __call__(self) -> Flask:
        from academy.web.app import create_app

        return create_app(self.settings)


class _Server(MPServer):
    """Starts the site so that Ctrl-C before it is up ends it without a traceback."""

    def _spawn_workers(self, *arguments: Any) -> None:
        with _unmoved_by_ctrl_c():
            super()._spawn_workers(*arguments)

    def _respawn_workers(self, *arguments: Any, **named: Any) -> None:
        with _unmoved_by_ctrl_c():
            super()._respawn_workers(*arguments, **named)


def serve_on_the_network(
    network: ShopNetwork, *, check_every_s: float = CHECK_EVERY_S, say: Callable[[str], Any]
) -> None:
    """Serve until Ctrl-C; renew the certificate and follow the machine's address meanwhile."""
    _kept(network)
    multiprocessing.set_start_method("spawn", force=True)  # no fork beside running threads
    site, files = Site(network.settings), network.files()
    server = _Server(
        "academy", address=network.host, port=network.port, interface=Interfaces.WSGI,
        blocking_threads=THREADS, ssl_cert=files.certificate, ssl_key=files.key,
        ssl_protocol_min=SSLProtocols.tls12, respawn_interval=SITE_STARTS_S,
        workers_kill_timeout=STOPS_WITHIN_S, log_enabled=False,
    )  # fmt: skip
    server.on_startup(lambda: _show_trust_page(network))
    server.on_startup(lambda: _watch(server, network, site, check_every_s, say))
    _tell(network, say)
    try:
        server.serve(target_loader=site, wrap_loader=False)
    except SystemExit:
        raise CannotServe("The site could not be started; what went wrong stands above.") from None


def _kept(network: ShopNetwork) -> None:
    try:
        network.refresh()
    except OSError as fault:
        raise CannotServe(
            f"The keys in {network.folder} cannot be used ({fault.strerror or fault}); make the"
            " folder readable and writable for the user who starts the academy."
        ) from None


def _watch(
    server: _Server, network: ShopNetwork, site: Site, every_s: float, say: Callable[[str], Any]
) -> None:
    def look() -> None:
        stopped = threading.Event()
        while not stopped.wait(every_s):
            try:
                if _renewed(network, say):
                    site.settings = network.settings
                    server.signal_handler_reload()
            except OSError as fault:
                say(f"The certificate could not be renewed: {fault.strerror or fault}.")

    threading.Thread(target=look, name="certificate", daemon=True).start()


def _renewed(network: ShopNetwork, say: Callable[[str], Any]) -> bool:
    """Return whether something was renewed, having said what that means for phones."""
    address_before, authority_before = network.settings.base_url, network.authority
    if not network.refresh():
        return False
    if network.authority != authority_before:
        say("The authority is a new one: every phone has to trust it anew, once.")
        _tell(network, say)
    elif network.settings.base_url != address_before:
        say("This machine has another address now. Phones go on trusting it.")
        _tell(network, say)
    else:
        say("The certificate was renewed; phones notice nothing.")
    return True


def _show_trust_page(network: ShopNetwork) -> None:
    import waitress

    page = waitress.create_server(
        create_trust_app(network.trusted), host=network.host, port=network.port + 1, threads=2,
        ident=None,
    )  # fmt: skip
    threading.Thread(target=page.run, name="trust page", daemon=True).start()


def _tell(network: ShopNetwork, say: Callable[[str], Any]) -> None:
    told = network.trusted()
    first = network.address_of_the_page()
    say(f"Phones and tablets on this network open {told.address}")
    say(f"The first time, they open {first} and follow the page; this code leads there:")
    if (sys.stdout.encoding or "").lower().startswith("utf"):
        say(qr_text(first))
    say("The page shows the authority's fingerprint, which must be this one:")
    pairs = told.fingerprint.split(":")
    for start in range(0, len(pairs), 8):
        say("  " + " ".join(pairs[start : start + 8]))
    sys.stdout.flush()


@contextmanager
def _unmoved_by_ctrl_c() -> Iterator[None]:
    """Ignore Ctrl-C for the moment in which a process is begun, which inherits that."""
    before = signal.signal(signal.SIGINT, signal.SIG_IGN)
    try:
        yield
    finally:
        signal.signal(signal.SIGINT, before)
