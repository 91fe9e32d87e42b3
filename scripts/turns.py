"""Two starts at once take turns, so that neither clears what the other is making."""

from __future__ import annotations

import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import IO

LONG_BEYOND_THE_END = 2**30


@contextmanager
def in_turn(lock: Path) -> Iterator[None]:
    """Hold the lock file while an environment is made from it; the system lets go if we die."""
    with lock.open("rb") as handle:
        if not _held(handle):
            print("Another start is making this environment; waiting for it", flush=True)
            while not _held(handle):
                time.sleep(0.2)
        yield


def _held(handle: IO[bytes]) -> bool:
    try:
        if sys.platform == "win32":
            import msvcrt

            # Windows keeps others from reading what is locked, so nothing that is read is.
            handle.seek(LONG_BEYOND_THE_END)
            msvcrt.locking(handle.fileno(), msvcrt.LK_NBLCK, 1)
        else:
            import fcntl

            fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except (BlockingIOError, PermissionError):
        return False
    return True
