"""One writer at a time on SQLite, across threads and processes.

Holding a lock from BEGIN to COMMIT keeps the worst wait of sixteen writers
short, where SQLite's own busy waiting can starve one of them for seconds.
"""

from __future__ import annotations

import sys
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import IO

if sys.platform == "win32":
    import msvcrt

    def _lock(handle: IO[bytes]) -> None:
        handle.seek(0)
        while True:
            try:
                msvcrt.locking(handle.fileno(), msvcrt.LK_LOCK, 1)
            except OSError:  # LK_LOCK gives up after ten seconds; keep waiting
                continue
            return

    def _unlock(handle: IO[bytes]) -> None:
        handle.seek(0)
        msvcrt.locking(handle.fileno(), msvcrt.LK_UNLCK, 1)

else:
    import fcntl

    def _lock(handle: IO[bytes]) -> None:
        fcntl.flock(handle.fileno(), fcntl.LOCK_EX)

    def _unlock(handle: IO[bytes]) -> None:
        fcntl.flock(handle.fileno(), fcntl.LOCK_UN)


class WriteLock:
    """A mutex for the threads of this process around a lock file for all processes."""

    def __init__(self, path: Path) -> None:
        self._path = path
        self._mutex = threading.Lock()

    @contextmanager
    def held(self) -> Iterator[None]:
        """Hold the lock for the length of the block."""
        with self._mutex, self._path.open("ab") as handle:
            _lock(handle)
            try:
                yield
            finally:
                _unlock(handle)
