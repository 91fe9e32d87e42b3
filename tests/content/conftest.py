"""The sound course every content test starts from."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.content.course_tree import CourseTree


@pytest.fixture
def tree(tmp_path: Path) -> CourseTree:
    return CourseTree(tmp_path)
