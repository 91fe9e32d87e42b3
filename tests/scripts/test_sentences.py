"""However a script ends, it ends in one sentence."""

from __future__ import annotations

import errno
import os
import subprocess
import sys

import pytest

from sentences import because
from tests.support.tiny_project import ROOT

ENDS = """
import os, signal, sys
sys.path.insert(0, sys.argv[1])
from sentences import CannotGoOn, in_one_sentence

def work():
    {}

sys.exit(in_one_sentence(work))
"""


def ended(work: str) -> subprocess.CompletedProcess[str]:
    command = [sys.executable, "-c", ENDS.format(work), str(ROOT / "scripts")]
    return subprocess.run(command, capture_output=True, text=True, check=False)


@pytest.mark.parametrize(
    ("work", "status", "said"),
    [
        pytest.param("raise CannotGoOn('No gauge.')", 1, "No gauge.", id="a reason"),
        pytest.param("raise KeyboardInterrupt", 130, "Stopped. Run the same", id="Ctrl-C"),
        pytest.param("os.kill(os.getpid(), signal.SIGTERM)", 130, "Stopped.", id="SIGTERM"),
        pytest.param("open('/nowhere/at/all')", 1, "The system refused: No such file", id="a file"),
    ],
)
@pytest.mark.skipif(sys.platform == "win32", reason="Windows words and signals differ")
def test_a_script_that_cannot_go_on_says_one_sentence(work: str, status: int, said: str) -> None:
    end = ended(work)
    assert end.returncode == status
    assert end.stderr.strip().startswith(said)
    assert len(end.stderr.strip().splitlines()) == 1


def test_a_script_that_is_done_says_nothing_of_its_own() -> None:
    end = ended("return 3")
    assert (end.returncode, end.stdout, end.stderr) == (3, "", "")


def test_a_full_disk_is_called_a_full_disk() -> None:
    problem = OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))
    assert because(problem).startswith("The disk is full")
