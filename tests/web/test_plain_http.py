"""Plain HTTP from another machine says what it takes away, on every page; nothing else does."""

from __future__ import annotations

from pathlib import Path

import pytest

from academy.content.library import CourseLibrary
from academy.settings import read_settings
from academy.store.schema import upgrade
from academy.web.app import create_app
from academy.web.context import EXTENSION

SAYS = "This page came over plain HTTP"


@pytest.mark.parametrize(
    ("base_url", "asked", "said"),
    [
        ("http://192.168.1.20:8000", "http://192.168.1.20:8000", True),
        ("http://192.168.1.20:8000", "http://shop-pc.local:8000", True),
        ("http://192.168.1.20:8000", "http://127.0.0.1:8000", False),
        ("http://192.168.1.20:8000", "http://localhost:8000", False),
        ("http://192.168.1.20:8000", "http://[::1]:8000", False),
        ("https://192.168.1.20:8000", "https://192.168.1.20:8000", False),
        ("https://academy.example", "http://academy.example", False),  # behind a proxy with TLS
    ],
)
def test_what_is_missing_is_said_where_it_is_missing(
    tmp_path: Path, base_url: str, asked: str, said: bool
) -> None:
    settings = read_settings({"ACADEMY_INSTANCE": str(tmp_path)}, base_url=base_url)
    app = create_app(settings, library=CourseLibrary(tmp_path))
    upgrade(app.extensions[EXTENSION].database)
    for path in ("/sign-in", "/nowhere"):
        page = app.test_client().get(path, base_url=asked)
        assert (SAYS in page.text) is said, path
        assert "--lan" in page.text or not said
