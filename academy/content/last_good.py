"""The last good course kept on disk, so that it still serves after a restart.

A course without errors is kept as one file of its sources, written beside and
then put in place at once.  When the site starts on a broken source, it serves
what was good before and shows the owner what is wrong.
"""

from __future__ import annotations

import json
import logging
import os
import tempfile
from pathlib import Path

from academy.content.compiler import compile_course
from academy.content.problems import Problems
from academy.content.references import Addresses
from academy.content.source import read_source
from academy.domain.curriculum.course import Course

LOG = logging.getLogger(__name__)


def keep_course(root: Path, place: Path) -> None:
    """Keep the sources in ``root`` at ``place``; a full or read-only disk is only noted."""
    files = {path: file.text for path, file in read_source(root, Problems()).files.items()}
    try:
        place.parent.mkdir(parents=True, exist_ok=True)
        handle, beside = tempfile.mkstemp(dir=place.parent, prefix=place.name)
        with os.fdopen(handle, "w", encoding="utf-8") as written:
            json.dump(files, written, ensure_ascii=False)
        Path(beside).replace(place)
    except OSError:
        LOG.exception("the last good course could not be kept at %s", place)


def kept_course(place: Path, addresses: Addresses | None) -> Course | None:
    """Return the course kept at ``place``, or None where there is none that still compiles."""
    try:
        files = json.loads(place.read_text(encoding="utf-8"))
    except (OSError, ValueError):
        return None
    with tempfile.TemporaryDirectory() as folder:
        for path, text in files.items():
            target = Path(folder, *path.split("/"))
            target.parent.mkdir(parents=True, exist_ok=True)
            target.write_text(text, encoding="utf-8")
        return compile_course(Path(folder), addresses=addresses).course
