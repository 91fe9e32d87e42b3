"""What is installed: everything pinned, everything hashed, and the tests see what users run."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterable
from pathlib import Path

import pytest

from tests.support.tiny_project import ROOT

PROGRAM = ROOT / "requirements.lock"
TESTS = ROOT / "tests" / "requirements.lock"
PROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))


def pins(lock: str) -> dict[str, str]:
    """Return each pinned requirement with the rest of its entry."""
    entries = re.split(r"^(?=[A-Za-z0-9])", lock, flags=re.MULTILINE)
    return {entry.split(" \\\n")[0]: entry for entry in entries if not entry.startswith("#")}


def names(requirements: Iterable[str]) -> set[str]:
    """Return the names of requirements, as an index normalises them (PEP 503)."""
    found = (re.match(r"[A-Za-z0-9._-]+", requirement) for requirement in requirements)
    return {re.sub(r"[-_.]+", "-", name[0]).lower() for name in found if name}


@pytest.mark.parametrize("lock", [PROGRAM, TESTS], ids=["program", "tests"])
def test_every_package_is_pinned_with_its_hashes(lock: Path) -> None:
    entries = pins(lock.read_text("utf-8"))
    assert entries
    for pin, entry in entries.items():
        assert re.fullmatch(r"[a-z0-9-]+==\S+( ; .+)?", pin)
        assert "--hash=sha256:" in entry


def test_whatever_the_project_asks_for_is_locked() -> None:
    asked = names(PROJECT["project"]["dependencies"])
    assert asked <= names(pins(PROGRAM.read_text("utf-8")))
    tested = names(PROJECT["dependency-groups"]["test"])
    assert tested <= names(pins(TESTS.read_text("utf-8")))


def test_the_tests_run_on_the_very_packages_that_users_get() -> None:
    assert set(pins(PROGRAM.read_text("utf-8"))) <= set(pins(TESTS.read_text("utf-8")))
