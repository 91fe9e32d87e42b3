"""The tiny project, fresh for each test or standing for all of them."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.support.tiny_project import FirstStart, TinyProject, a_free_port, a_tiny_project


@pytest.fixture
def tiny(tmp_path: Path) -> TinyProject:
    return a_tiny_project(tmp_path)


@pytest.fixture(scope="session")
def first_start(tmp_path_factory: pytest.TempPathFactory) -> FirstStart:
    """Return what the first start of a tiny project said, and on which port."""
    project = a_tiny_project(tmp_path_factory.mktemp("standing"))
    port = a_free_port()
    return FirstStart(project, port, project.run("--port", str(port)))


@pytest.fixture(scope="session")
def standing(first_start: FirstStart) -> TinyProject:
    """Return a tiny project whose environment stands already; nothing may change it."""
    assert first_start.ended.returncode == 0, first_start.ended.stderr
    return first_start.project
