"""A pasted column of readings: taken apart into one piece a reading, or refused in a sentence."""

from __future__ import annotations

import re
from dataclasses import dataclass
from enum import StrEnum
from typing import ClassVar

from academy.domain.metrology.readings import pieces_of
from academy.domain.sentences import Sentence
from academy.domain.units import micrometres_from_mils

_CELLS = re.compile(r"[\t;|]")
_DIGIT = re.compile(r"\d")
_NUMBER = re.compile(r"\d+(?:[.,]\d+)?", re.ASCII)


class ReadingUnit(StrEnum):
    """The unit a gauge shows."""

    UM = "um"
    MIL = "mil"


@dataclass(frozen=True, slots=True)
class NoColumn(Sentence):
    """There is no number in what was pasted."""

    template: ClassVar[str] = "There is no reading in what was pasted. Copy the column of readings."


@dataclass(frozen=True, slots=True)
class SeveralColumns(Sentence):
    """A table, not a column: nobody can say which number is the reading."""

    template: ClassVar[str] = (
        "This is a table of several columns. Copy the column of readings alone, so that nothing is"
        " taken for a reading that is none."
    )


@dataclass(frozen=True, slots=True)
class TooManyReadings(Sentence):
    """More pieces than boxes."""

    template: ClassVar[str] = (
        "%(given)d readings were pasted and %(room)d boxes are free. Nothing was filled in: paste"
        " the readings of this round alone."
    )
    given: int
    room: int


@dataclass(frozen=True, slots=True)
class Column:
    """The readings of a column as text, one a box; mil are turned into micrometres."""

    readings: tuple[str, ...]


def column_of(pasted: str, unit: ReadingUnit, room: int) -> Column | Sentence:
    """Take a pasted column apart; a heading without a digit above it is passed over.

    Parameters
    ----------
    pasted
        as copied: lines, or readings in one line
    unit
        what the numbers are where they do not say so themselves
    room
        how many boxes are free
    """
    lines = [line for line in pasted.splitlines() if _DIGIT.search(line)]
    if not lines:
        return NoColumn()
    if len(lines) > 1 and any(_numbers_in(line) > 1 for line in lines):
        return SeveralColumns()
    pieces = [piece for line in lines for piece in pieces_of(line)]
    if len(pieces) > room:
        return TooManyReadings(len(pieces), room)
    return Column(tuple(_in_micrometres(piece, unit) for piece in pieces))


def _numbers_in(line: str) -> int:
    return sum(bool(_DIGIT.search(cell)) for cell in _CELLS.split(line))


def _in_micrometres(piece: str, unit: ReadingUnit) -> str:
    """Return a bare number of mil in micrometres; anything else as it stands, to be judged."""
    if unit is ReadingUnit.MIL and _NUMBER.fullmatch(piece):
        return f"{micrometres_from_mils(float(piece.replace(',', '.'))):.1f}"
    return piece
