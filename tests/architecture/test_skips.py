"""Where everything has to run, a skipped test is a failed one; elsewhere it is named with its cure."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
WITHOUT_A_BROWSER = """
import pytest
from tests.support.skips import NO_BROWSER

def test_with_a_browser():
    pytest.skip(NO_BROWSER)

@pytest.mark.xfail(reason="known")
def test_that_is_known_to_fail():
    assert False

def test_without_one():
    pass
"""
A_WHOLE_FILE = """
import pytest
pytest.skip("no gauge", allow_module_level=True)
"""


def run_tests(folder: Path, written: str, ci: str, *workers: str) -> tuple[int, str]:
    """Return the exit status and the words of a pytest run over one file."""
    (folder / "test_written.py").write_text(written, "utf-8")
    command = [
        sys.executable,
        "-m",
        "pytest",
        "-p",
        "tests.support.skips",
        "-p",
        "no:cacheprovider",
    ]
    command += ["-c", os.devnull, "--rootdir", str(folder), *workers, str(folder)]
    surroundings = {**os.environ, "CI": ci}
    ended = subprocess.run(
        command, cwd=ROOT, env=surroundings, capture_output=True, text=True, check=False
    )
    return ended.returncode, ended.stdout


@pytest.mark.parametrize("workers", [(), ("-n", "2", "--dist", "loadgroup")], ids=["alone", "two"])
def test_a_skip_fails_where_ci_is_set(tmp_path: Path, workers: tuple[str, ...]) -> None:
    status, said = run_tests(tmp_path, WITHOUT_A_BROWSER, "true", *workers)
    assert status == 1
    assert "1 failed, 1 passed, 1 xfailed in" in said.splitlines()[-1]
    assert "skipped where CI is set: no browser here" in said


def test_a_skip_is_named_with_the_command_that_cures_it(tmp_path: Path) -> None:
    status, said = run_tests(tmp_path, WITHOUT_A_BROWSER, "")
    assert status == 0
    assert "Skipped 1: no browser here; 'sudo apt install chromium' gets it" in said
    assert "1 passed, 1 skipped, 1 xfailed in" in said.splitlines()[-1]


@pytest.mark.parametrize(("ci", "status"), [("true", 1), ("false", 0)])
def test_a_file_that_skips_itself_counts_as_well(tmp_path: Path, ci: str, status: int) -> None:
    # A second file has a test, since a run without any ends with a status of its own.
    (tmp_path / "test_other.py").write_text("def test_other(): pass", "utf-8")
    ended, said = run_tests(tmp_path, A_WHOLE_FILE, ci, "--continue-on-collection-errors")
    assert ended == status
    assert "no gauge" in said
