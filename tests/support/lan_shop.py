"""A real, empty shop served over HTTPS in a process of its own, as ``--lan`` does.

Run as a program it serves with a clock that stands 380 days back until a file
says that it is today: ``lan_shop.py HOST PORT FILE``.
"""

from __future__ import annotations

import os
import signal
import socket
import ssl
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, replace
from datetime import UTC, datetime, timedelta
from pathlib import Path

from cryptography import x509

ROOT = Path(__file__).resolve().parents[2]
PATIENCE_S = 90.0


def two_free_ports() -> int:
    """Return a port that is free now, as is the one after it."""
    while True:
        with socket.create_server(("127.0.0.1", 0)) as first:
            port: int = first.getsockname()[1]
            try:
                socket.create_server(("127.0.0.1", port + 1)).close()
            except OSError:
                continue
        return port


@dataclass(frozen=True)
class LanShop:
    """The running program, where it listens and where its data lies."""

    program: subprocess.Popen[str]
    instance: Path
    port: int

    @property
    def authority(self) -> Path:
        """Return the file a phone trusts."""
        return self.instance / "tls" / "authority.pem"

    def stop(self) -> str:
        """Press Ctrl-C; return everything the program said, errors after the rest."""
        os.killpg(self.program.pid, signal.SIGINT)
        said, faults = self.program.communicate(timeout=PATIENCE_S)
        return said + faults

    def certificate(self, host: str = "127.0.0.1") -> x509.Certificate:
        """Return the certificate shown to a phone that trusts the authority and asks for ``host``."""
        trusting = ssl.create_default_context(cafile=str(self.authority))
        with (
            socket.create_connection(("127.0.0.1", self.port), timeout=10) as plain,
            trusting.wrap_socket(plain, server_hostname=host) as secured,
        ):
            shown = secured.getpeercert(binary_form=True)
        assert shown is not None
        return x509.load_der_x509_certificate(shown)

    def wait(self) -> LanShop:
        """Return when the site answers."""
        until = time.monotonic() + PATIENCE_S
        while time.monotonic() < until:
            assert self.program.poll() is None, self.program.communicate()
            try:
                self.certificate()
            except OSError:
                time.sleep(0.1)
            else:
                return self
        raise TimeoutError("the site did not come up")


@contextmanager
def started(instance: Path, *arguments: str) -> Iterator[LanShop]:
    """Start a program on a free port of this machine; end it whatever happens."""
    port = two_free_ports()
    content = instance / "no-course"
    content.mkdir(parents=True, exist_ok=True)
    surroundings = os.environ | {
        "ACADEMY_INSTANCE": str(instance),
        "ACADEMY_CONTENT": str(content),
        "PYTHONUNBUFFERED": "1",
        "PYTHONPATH": str(ROOT),
    }
    surroundings.pop("ACADEMY_BASE_URL", None)
    asked = arguments or ("-m", "academy", "serve", "--lan", "--empty", "--host", "127.0.0.1")
    numbered = [word.replace("PORT", str(port)) for word in asked]
    command = [sys.executable, *numbered, *(() if arguments else ("--port", str(port)))]
    with subprocess.Popen(
        command, cwd=ROOT, env=surroundings, text=True, start_new_session=True,
        stdout=subprocess.PIPE, stderr=subprocess.PIPE,
    ) as program:  # fmt: skip
        try:
            yield LanShop(program, instance, port)
        finally:
            if program.poll() is None:
                os.killpg(program.pid, signal.SIGKILL)


def main(host: str, port: str, today: str) -> None:
    """Serve with the clock standing back until the file is there."""
    from academy.cli.lan import serve_on_the_network
    from academy.cli.shop_network import ShopNetwork
    from academy.settings import read_settings

    def now() -> datetime:
        back = timedelta(0) if Path(today).exists() else timedelta(days=380)
        return datetime.now(UTC) - back

    settings = replace(read_settings(base_url=f"https://{host}:{port}"), own_authority=True)
    network = ShopNetwork(settings, host, int(port), False, now)
    serve_on_the_network(network, check_every_s=0.3, say=print)


if __name__ == "__main__":
    main(*sys.argv[1:])
