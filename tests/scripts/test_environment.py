"""When an environment counts as whole, and what stands in the way of making one."""

from __future__ import annotations

from pathlib import Path

import pytest

from environment import Environment
from sentences import CannotGoOn
from tests.support.tiny_project import TinyProject


def environment_of(project: TinyProject, lock: Path | None = None) -> Environment:
    lock = lock or project.folder / "requirements.lock"
    return Environment(project.folder / ".venv", lock, project.folder)


def test_an_environment_is_whole_until_its_lock_changes(
    standing: TinyProject, tmp_path: Path
) -> None:
    lock = tmp_path / "requirements.lock"
    lock.write_bytes((standing.folder / "requirements.lock").read_bytes())
    assert environment_of(standing, lock).is_whole()
    lock.write_bytes(lock.read_bytes() + b"another==2.0\n")
    assert not environment_of(standing, lock).is_whole()


def test_an_environment_that_was_moved_is_not_whole(standing: TinyProject, tmp_path: Path) -> None:
    whole = environment_of(standing)
    moved = tmp_path / ".venv"
    moved.symlink_to(whole.folder, target_is_directory=True)
    assert not Environment(moved, whole.lock, whole.root).is_whole()


def test_an_environment_without_its_stamp_is_not_whole(tiny: TinyProject) -> None:
    environment = environment_of(tiny)
    environment.python.parent.mkdir(parents=True)
    environment.python.touch()
    assert not environment.is_whole()


def test_an_environment_whose_python_went_away_is_not_whole(tiny: TinyProject) -> None:
    environment = environment_of(tiny)
    environment.folder.mkdir()
    environment.stamp.write_text(environment.digest(), "ascii")
    assert not environment.is_whole()
    environment.python.parent.mkdir()
    environment.python.touch()
    assert environment.is_whole()


def test_a_project_folder_that_cannot_be_written_to_gets_one_sentence(tiny: TinyProject) -> None:
    # A file where a folder should be: permission bits do not hold root back.
    blocked = tiny.folder / "requirements.lock" / ".venv"
    with pytest.raises(CannotGoOn, match=r"cannot be written to .*copy the project"):
        Environment(blocked, tiny.folder / "requirements.lock", None).make()
