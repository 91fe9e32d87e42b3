"""Times taken in turn, so that both sides meet the same machine, and peak memory of a process."""

from __future__ import annotations

import statistics
import subprocess
import sys
import time
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path

SCRIPTS = Path(__file__).resolve().parent.parent


@dataclass(frozen=True, slots=True)
class Times:
    """Seconds of two sides, round by round, warmed up once."""

    ours: tuple[float, ...]
    peer: tuple[float, ...]

    @property
    def ratio(self) -> float:
        """The median over rounds of the peer's time over ours."""
        return statistics.median(p / o for o, p in zip(self.ours, self.peer, strict=True))


def times_in_turn(ours: Callable[[], object], peer: Callable[[], object], rounds: int) -> Times:
    """Time both sides in turn; the first round of each is not counted."""
    taken = [(seconds(ours), seconds(peer)) for _ in range(rounds + 1)][1:]
    return Times(tuple(o for o, _ in taken), tuple(p for _, p in taken))


def seconds(work: Callable[[], object]) -> float:
    """Return how long one call takes."""
    start = time.perf_counter()
    work()
    return time.perf_counter() - start


def peak_memory_mb(module: str, arguments: Sequence[str]) -> float | None:
    """Return the peak memory of ``python -m module`` with these arguments; None elsewhere than on Linux.

    Read from the process's own high-water mark: what getrusage says of a child
    holds its parent's peak as well.
    """
    if not Path("/proc/self/status").exists():
        return None
    code = (
        "import pathlib, re, runpy, sys;"
        f"sys.argv = {[module, *arguments]!r};"
        f"runpy.run_module({module!r}, run_name='__main__');"
        "status = pathlib.Path('/proc/self/status').read_text();"
        "print(int(re.search(r'VmHWM:\\s+(\\d+) kB', status)[1]) / 1024)"
    )
    ran = subprocess.run(
        [sys.executable, "-c", code], cwd=SCRIPTS, capture_output=True, text=True, check=True
    )
    return float(ran.stdout.split()[-1])
