"""The files of ``content/``: read once, and watched for changes."""

from __future__ import annotations

import hashlib
import os
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path

from academy.content.problems import Place, Problems

LARGEST_FILE_BYTES = 500_000
ENDINGS = (".md", ".yaml")


@dataclass(frozen=True, slots=True)
class SourceFile:
    """One file; ``path`` is relative to ``content/`` and uses ``/``."""

    path: str
    text: str
    digest: str

    def at(self, line: int) -> Place:
        """Return a line of this file."""
        return Place(self.path, line)

    @property
    def name(self) -> str:
        """Return the name without folder, ending and leading number: the id."""
        stem = self.path.rsplit("/", 1)[-1].rsplit(".", 1)[0]
        number, hyphen, rest = stem.partition("-")
        return rest if hyphen and number.isdigit() else stem


@dataclass(frozen=True, slots=True)
class Source:
    """Every file an author wrote, and the digest of all of them."""

    files: Mapping[str, SourceFile]
    digest: str

    def below(self, folder: str) -> Iterator[SourceFile]:
        """Yield the files directly in a folder, by name."""
        for path in sorted(self.files):
            if path.rpartition("/")[0] == folder:
                yield self.files[path]


@dataclass(frozen=True, slots=True)
class Stamp:
    """What a look at the folder tells without reading: path, size and time of each file."""

    path: str
    size: int
    changed_ns: int


def stamps(root: Path) -> tuple[Stamp, ...]:
    """Return the stamps of all source files; an absent folder has none."""
    return tuple(sorted(_walk(str(root), ""), key=lambda stamp: stamp.path))


def read_source(root: Path, problems: Problems) -> Source:
    """Read every source file; an unreadable one is a problem and left out."""
    files: dict[str, SourceFile] = {}
    whole = hashlib.sha256()
    for stamp in stamps(root):
        file = _read(root, stamp, problems)
        if file is not None:
            files[file.path] = file
            whole.update(f"{file.path}\0{file.digest}\n".encode())
    return Source(files, whole.hexdigest())


def _walk(folder: str, prefix: str) -> Iterator[Stamp]:
    try:
        entries = list(os.scandir(folder))
    except OSError:
        return
    for entry in entries:
        if entry.name.startswith(".") or entry.name.endswith("~"):
            continue
        if entry.is_dir(follow_symlinks=False):
            yield from _walk(entry.path, f"{prefix}{entry.name}/")
        elif f"{prefix}{entry.name}" != "README.md":
            stamp = _stamp(entry, prefix)
            if stamp is not None:
                yield stamp


def _stamp(entry: os.DirEntry[str], prefix: str) -> Stamp | None:
    # An editor may take a file away between the listing and the look.
    try:
        seen = entry.stat()
    except OSError:
        return None
    return Stamp(f"{prefix}{entry.name}", seen.st_size, seen.st_mtime_ns)


def _read(root: Path, stamp: Stamp, problems: Problems) -> SourceFile | None:
    place = Place(stamp.path, 1)
    if not stamp.path.endswith(ENDINGS):
        problems.error(place, "only .md and .yaml files belong here")
        return None
    if stamp.size > LARGEST_FILE_BYTES:
        problems.error(place, "the file has %(size)s bytes; that is no lesson", size=stamp.size)
        return None
    try:
        data = (root / stamp.path).read_bytes()
        text = data.decode("utf-8-sig")
    except OSError as fault:
        problems.error(place, "the file cannot be read: %(fault)s", fault=fault.strerror)
        return None
    except UnicodeDecodeError as fault:
        line = data[: fault.start].count(b"\n") + 1
        problems.error(Place(stamp.path, line), "the file is not UTF-8 text")
        return None
    text = text.replace("\r\n", "\n")
    return SourceFile(stamp.path, text, hashlib.sha256(data).hexdigest())
