"""Searching the course: ranked headings, terms and objectives, typing errors forgiven."""

from __future__ import annotations

import logging
import math
import re
import sqlite3
import tempfile
from collections import defaultdict
from contextlib import closing
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from academy.content.search_entries import Entry, EntryKind
from academy.content.search_file import search_file, write_search_file
from academy.content.search_words import EXACT, SHORT, likeness, trigrams, words_in
from academy.domain.curriculum.course import Course

LONGEST_TYPED = 200
MOST_WORDS = 12
MOST_SPELLINGS = 8  # of one typed word
SNIPPET_WORDS = 28
LOG = logging.getLogger(__name__)


@dataclass(frozen=True, slots=True)
class Piece:
    """A piece of a snippet; ``hit`` marks a word that was looked for."""

    text: str
    hit: bool


@dataclass(frozen=True, slots=True)
class Found:
    """One result with its score and the place in its text that fits best."""

    entry: Entry
    score: float
    snippet: tuple[Piece, ...]


@dataclass(frozen=True, slots=True)
class _Spelling:
    """A word of the course that may have been meant."""

    id: int
    word: str
    worth: float


def find_in_course(folder: Path, course: Course, typed: str, most: int = 20) -> tuple[Found, ...]:
    """Return what fits best, best first; nothing for a text without a word of two letters.

    ``folder`` holds the search file, made when the course changes; where it
    cannot be written the system's folder for temporary files is used.
    """
    words = [w for w in dict.fromkeys(words_in(typed[:LONGEST_TYPED], MOST_WORDS)) if len(w) > 1]
    if not words:
        return ()
    path = _file(folder, course)
    try:
        return _found_in(path, words, most)
    except sqlite3.DatabaseError:
        LOG.warning("the search file %s could not be read and is written anew", path)
        write_search_file(path, course)
        return _found_in(path, words, most)


def _file(folder: Path, course: Course) -> Path:
    try:
        return search_file(folder, course)
    except OSError:
        LOG.warning("%s cannot be written; searching in a temporary folder", folder)
        return search_file(_temporary_folder(), course)


@cache
def _temporary_folder() -> Path:
    # One of this process alone: in a folder others can guess they could leave a file for us.
    return Path(tempfile.mkdtemp(prefix="academy-search-"))


def _found_in(path: Path, words: list[str], most: int) -> tuple[Found, ...]:
    with closing(sqlite3.connect(f"{path.as_uri()}?mode=ro&immutable=1", uri=True)) as file:
        entries: int = file.execute("SELECT count(*) FROM entry").fetchone()[0]
        meant = [_spellings(file, word, entries) for word in words]
        scores = _scores(file, meant)
        best = sorted(scores, key=lambda entry_id: (-scores[entry_id], entry_id))[:most]
        hits = frozenset(spelling.word for spellings in meant for spelling in spellings)
        return tuple(_found(file, entry_id, scores[entry_id], hits) for entry_id in best)


def _spellings(file: sqlite3.Connection, typed: str, entries: int) -> list[_Spelling]:
    """Return the words of the course that may have been meant, likeliest first.

    A word's worth is its likeness times how rare it is (K. Sparck Jones (1972),
    Journal of Documentation 28, 11).  Swapped letters leave a short word no
    trigram of its own, so short words are compared with all of about their length.
    """
    wanted = " OR ".join(f'"{part}"' for part in sorted(trigrams(typed)))
    rows = set(
        file.execute(
            "SELECT word.id, word.word, word.entries FROM spelling"
            " JOIN word ON word.id = spelling.rowid WHERE spelling MATCH ?",
            (wanted,),
        )
    )
    if len(typed) <= SHORT:
        rows |= set(
            file.execute(
                "SELECT id, word, entries FROM word WHERE letters BETWEEN ? AND ?",
                (len(typed) - 1, len(typed) + 1),
            )
        )
    likely = [(likeness(typed, word), number, word, spread) for number, word, spread in rows]
    likely = sorted((row for row in likely if row[0]), key=lambda row: (-row[0], row[2]))
    if likely and likely[0][0] == EXACT:
        # The word is known, so it was hardly another one misspelt.
        likely = [(like if like == EXACT else like / 2, *row) for like, *row in likely]
    return [
        _Spelling(number, word, like * math.log(1 + entries / spread))
        for like, number, word, spread in likely[:MOST_SPELLINGS]
    ]


def _scores(file: sqlite3.Connection, meant: list[list[_Spelling]]) -> dict[int, float]:
    """Return each entry's score: its best spelling of every word, more where all are there."""
    by_word: dict[int, dict[int, float]] = defaultdict(dict)
    for position, spellings in enumerate(meant):
        for spelling in spellings:
            for entry_id, weight in file.execute(
                "SELECT entry_id, weight FROM posting WHERE word_id = ?", (spelling.id,)
            ):
                score = weight * spelling.worth
                known = by_word[entry_id].get(position, 0.0)
                by_word[entry_id][position] = max(known, score)
    return {
        entry_id: sum(parts.values()) * len(parts) / len(meant)
        for entry_id, parts in by_word.items()
    }


def _found(file: sqlite3.Connection, entry_id: int, score: float, hits: frozenset[str]) -> Found:
    kind, *rest = file.execute(
        "SELECT kind, title, text, module_id, lesson_id, anchor, lesson_title, module_title"
        " FROM entry WHERE id = ?",
        (entry_id,),
    ).fetchone()
    entry = Entry(EntryKind(kind), *rest)
    return Found(entry, score, snippet(entry.text, hits))


def snippet(text: str, hits: frozenset[str]) -> tuple[Piece, ...]:
    """Return the stretch of a text with the most words that were looked for."""
    words = text.split()
    hit = [bool(hits.intersection(words_in(word))) for word in words]
    counts = [
        sum(hit[start : start + SNIPPET_WORDS])
        for start in range(max(len(words) - SNIPPET_WORDS, 0) + 1)
    ]
    start = counts.index(max(counts))
    shown = range(start, min(start + SNIPPET_WORDS, len(words)))
    pieces: list[Piece] = [Piece("… ", False)] if start else []
    for at in shown:
        pieces += _pieces(words[at], hits)
        pieces.append(Piece(" ", False))
    if shown.stop < len(words):
        pieces.append(Piece("…", False))
    return _joined(pieces)


def _pieces(word: str, hits: frozenset[str]) -> list[Piece]:
    parts = re.split(r"([^\W_]+)", word)
    return [Piece(part, part.casefold() in hits) for part in parts if part]


def _joined(pieces: list[Piece]) -> tuple[Piece, ...]:
    """Put neighbours that are no hits together."""
    joined: list[Piece] = []
    for piece in pieces:
        if joined and not piece.hit and not joined[-1].hit:
            joined[-1] = Piece(joined[-1].text + piece.text, False)
        else:
            joined.append(piece)
    return tuple(joined)
