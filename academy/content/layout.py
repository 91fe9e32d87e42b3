"""Which files the course knows, and how they must be named."""

from __future__ import annotations

import re
from collections.abc import Iterator

from academy.content.problems import Problems
from academy.content.source import Source, SourceFile

_KNOWN = re.compile(
    r"course\.md|cautions\.md|facts/[^/]+\.yaml|glossary/[^/]+\.md"
    r"|(tasks|drills|schemes|spoken)/[^/]+\.md"
    r"|modules/[^/]+/(module|trainer)\.md|modules/[^/]+/(lessons|questions)/[^/]+\.md"
)
_NAME = re.compile(r"(\d+-)?[a-z0-9]+(-[a-z0-9]+)*")


def check_layout(source: Source, problems: Problems) -> None:
    """Note files that stand where nothing reads them, and names that are no ids."""
    for path, file in source.files.items():
        if not _KNOWN.fullmatch(path):
            problems.error(file.at(1), "nothing in the course reads a file at this place")
        for part in path.rsplit(".", 1)[0].split("/"):
            if not _NAME.fullmatch(part):
                problems.error(
                    file.at(1), "'%(part)s' is not small letters, digits and hyphens", part=part
                )


def distinct(files: Iterator[SourceFile], problems: Problems) -> Iterator[SourceFile]:
    """Yield files of one folder; one whose id is taken is noted and left out."""
    seen: dict[str, str] = {}
    for file in files:
        if file.name in seen:
            problems.error(
                file.at(1), "the id %(id)s belongs to %(path)s", id=file.name, path=seen[file.name]
            )
            continue
        seen[file.name] = file.path
        yield file


def module_folders(source: Source) -> list[str]:
    """Return the names of the folders below ``modules/``."""
    parts = (path.split("/") for path in source.files)
    return sorted({names[1] for names in parts if names[0] == "modules" and len(names) > 2})
