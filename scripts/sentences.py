"""What a script says when it cannot go on: one sentence, no traceback."""

from __future__ import annotations

import errno
import signal
import sys
from collections.abc import Callable
from io import TextIOWrapper

INTERRUPTED = 130
FULL_DISK = "The disk is full; free about 1 GB and run the same command again."


class CannotGoOn(Exception):
    """The message is one clear sentence for the person at the keyboard."""


def in_one_sentence(work: Callable[[], int]) -> int:
    """Return the exit status of ``work``; say in one sentence why it did not finish."""
    # A service manager stops a program with SIGTERM; it is to end as quietly as Ctrl-C.
    signal.signal(signal.SIGTERM, signal.default_int_handler)
    for stream in (sys.stdout, sys.stderr):
        # A folder's name may hold letters that an old console cannot show.
        if isinstance(stream, TextIOWrapper):
            stream.reconfigure(errors="replace")
    try:
        return work()
    except CannotGoOn as reason:
        return _said(str(reason), status=1)
    except KeyboardInterrupt:
        return _said("\nStopped. Run the same command again to go on.", status=INTERRUPTED)
    except OSError as problem:
        return _said(because(problem), status=1)


def because(problem: OSError) -> str:
    """Return a sentence for what the operating system refused."""
    if problem.errno == errno.ENOSPC:
        return FULL_DISK
    where = f" ({problem.filename})" if problem.filename else ""
    return f"The system refused: {problem.strerror or problem}{where}."


def _said(sentence: str, status: int) -> int:
    sys.stdout.flush()
    print(sentence, file=sys.stderr, flush=True)
    return status
