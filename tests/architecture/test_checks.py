"""Style, types and layers are checked by the same command as everything else."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
IMPORT_LINTER = "import sys; from importlinter.cli import lint_imports_command as check; check()"


def check(*arguments: str) -> None:
    """Run one checker on the project and fail with what it says."""
    done = subprocess.run(
        [sys.executable, *arguments],
        cwd=ROOT, stdin=subprocess.DEVNULL, capture_output=True, text=True, check=False,
    )  # fmt: skip
    if done.returncode:
        pytest.fail(f"{done.stdout}\n{done.stderr}".strip(), pytrace=False)


def test_the_code_follows_the_house_style() -> None:
    check("-m", "ruff", "check", "--quiet")


def test_the_code_is_formatted() -> None:
    check("-m", "ruff", "format", "--check", "--quiet")


def test_every_type_is_right() -> None:
    check("-m", "mypy")


def test_dependencies_point_down() -> None:
    check("-c", IMPORT_LINTER, "--no-cache")
