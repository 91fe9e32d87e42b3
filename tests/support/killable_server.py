"""The site in a process of its own, which a test may kill and start again on the same port."""

from __future__ import annotations

import os
import socket
import subprocess
import sys
import time
import urllib.request
from collections.abc import Mapping
from dataclasses import dataclass, field

from academy.settings import PROJECT

PATIENCE_S = 60.0


def free_port() -> int:
    """Return a port of this machine that nobody listens on now."""
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        port: int = free.getsockname()[1]
        return port


@dataclass(kw_only=True)
class KillableServer:
    """A process of ``python -m`` that serves the site; ``module`` is followed by its arguments."""

    port: int
    module: tuple[str, ...]
    environment: Mapping[str, str] = field(default_factory=dict)
    process: subprocess.Popen[bytes] | None = None

    @property
    def address(self) -> str:
        """Return where it answers."""
        return f"http://127.0.0.1:{self.port}"

    def start(self) -> None:
        """Start the process and wait until it answers."""
        self.process = subprocess.Popen(
            [sys.executable, "-m", *self.module],
            cwd=PROJECT,
            env=os.environ | dict(self.environment),
            stdout=subprocess.DEVNULL,
            stderr=subprocess.DEVNULL,
        )
        until = time.monotonic() + PATIENCE_S
        while time.monotonic() < until:
            try:
                with urllib.request.urlopen(f"{self.address}/sign-in", timeout=2):
                    return
            except OSError:
                time.sleep(0.05)
        raise AssertionError("the server does not answer")

    def kill(self) -> None:
        """Kill it as a power cut would: no signal it could answer to."""
        if self.process is not None:
            self.process.kill()
            self.process.wait(10)
            self.process = None
