"""The file a course is searched in: written once for a digest, read-only ever after."""

from __future__ import annotations

import os
import sqlite3
import tempfile
import threading
from collections import Counter
from contextlib import closing, suppress
from pathlib import Path

from academy.content.search_entries import Entry, entries_of
from academy.content.search_words import words_in
from academy.domain.curriculum.course import Course

# Raised when the same course is laid out differently.
FILE_VERSION = 1
ENDING = ".search.sqlite3"
TITLE_WEIGHT, AROUND_WEIGHT, TEXT_WEIGHT = 6.0, 1.5, 1.0

_TABLES = """
CREATE TABLE entry (
    id INTEGER PRIMARY KEY, kind TEXT, title TEXT, text TEXT, module_id TEXT, lesson_id TEXT,
    anchor TEXT, lesson_title TEXT, module_title TEXT
);
CREATE TABLE posting (
    word_id INTEGER, entry_id INTEGER, weight REAL, PRIMARY KEY (word_id, entry_id)
) WITHOUT ROWID;
CREATE TABLE word (id INTEGER PRIMARY KEY, word TEXT, letters INTEGER, entries INTEGER);
CREATE INDEX word_letters ON word (letters);
CREATE VIRTUAL TABLE spelling USING fts5 (word, tokenize = 'trigram');
"""
_BUILDING = threading.Lock()


def search_file(folder: Path, course: Course) -> Path:
    """Return the file for this course, writing it first where it is missing.

    Readers see a whole file or none: it is written beside its place and moved
    there.  Files of earlier versions of the course are taken away.
    """
    path = folder / f"{course.digest[:32]}-{FILE_VERSION}{ENDING}"
    if not path.exists():
        with _BUILDING:
            if not path.exists():
                write_search_file(path, course)
                _sweep(folder, path)
    return path


def write_search_file(path: Path, course: Course) -> None:
    """Write the file for a course, whatever stands at its place."""
    path.parent.mkdir(parents=True, exist_ok=True)
    handle, name = tempfile.mkstemp(suffix=".new", dir=path.parent)
    os.close(handle)
    try:
        _fill(name, list(entries_of(course)))
        os.replace(name, path)
    except PermissionError:
        # Windows: another process put the same file there and has it open.
        if not path.exists():
            raise
    finally:
        Path(name).unlink(missing_ok=True)


def _fill(name: str, entries: list[Entry]) -> None:
    weights = [_weights(entry) for entry in entries]
    spread = Counter(word for counted in weights for word in counted)
    ids = {word: number for number, word in enumerate(sorted(spread), 1)}
    with closing(sqlite3.connect(name)) as connection, connection:
        connection.executescript(_TABLES)
        connection.executemany(
            "INSERT INTO entry VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)",
            [
                (number, e.kind.value, e.title, e.text, e.module_id, e.lesson_id, e.anchor,
                 e.lesson_title, e.module_title)
                for number, e in enumerate(entries, 1)
            ],
        )  # fmt: skip
        connection.executemany(
            "INSERT INTO word VALUES (?, ?, ?, ?)",
            [(ids[word], word, len(word), count) for word, count in spread.items()],
        )
        connection.executemany(
            "INSERT INTO spelling (rowid, word) VALUES (?, ?)",
            [(number, f" {word} ") for word, number in ids.items()],
        )
        connection.executemany(
            "INSERT INTO posting VALUES (?, ?, ?)",
            [
                (ids[word], number, weight)
                for number, counted in enumerate(weights, 1)
                for word, weight in counted.items()
            ],
        )


def _weights(entry: Entry) -> dict[str, float]:
    """Return how much each word says about an entry; a word said often soon says no more."""
    found: dict[str, float] = {}
    # One word of a short title says more than one of a long one.
    title_weight = TITLE_WEIGHT * (1 + 1 / max(len(words_in(entry.title)), 1))
    for text, weight in (
        (entry.title, title_weight),
        (entry.around, AROUND_WEIGHT),
        (entry.text, TEXT_WEIGHT),
    ):
        for word, count in Counter(words_in(text)).items():
            found[word] = found.get(word, 0.0) + weight * 2 * count / (count + 1)
    return found


def _sweep(folder: Path, kept: Path) -> None:
    for path in folder.glob(f"*{ENDING}"):
        if path != kept:
            with suppress(OSError):  # another process may still read it, on Windows
                path.unlink()
