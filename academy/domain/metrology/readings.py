"""One typed reading, understood, refused or asked about; never silently dropped.

A supervisor types forty readings standing at a panel.  A decimal comma is
understood.  A mil typed for a micrometre, a slipped digit and a lost decimal
point are asked about; what cannot be a reading is refused in a sentence.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from statistics import median
from typing import ClassVar

from academy.domain.sentences import Sentence
from academy.domain.units import micrometres_from_mils

LARGEST_READING_UM = 2000.0
# Common practice, no source: car paint from primer up is 60 to 400 µm, repaints and filler to 600 and
# beyond; below 15 µm nothing but a bare electrocoat is left.  3 times is far outside one panel's spread.
THINNEST_PAINT_UM = 15.0
THICKEST_PAINT_UM = 600.0
TIMES_ITS_NEIGHBOURS = 3.0

_NUMBER = re.compile(r"([+\-−–]?)(\d*)(?:([.,])(\d*))?", re.ASCII)
_UNIT = re.compile(r"\s*(µm|μm|um|mils?|micron(?:s)?)\.?$", re.IGNORECASE)
_SPLIT = re.compile(r"[\s;|]+|,\s+")
_SPACE_BEFORE_UNIT = re.compile(
    r"(?<=\d)[ \t\u00a0\u202f]+(?=(?:µm|μm|um|mils?|microns?)\b)", re.IGNORECASE
)


@dataclass(frozen=True, slots=True)
class Accepted:
    """A reading as it was understood, in micrometres."""

    typed: str
    value_um: float


@dataclass(frozen=True, slots=True)
class Refused:
    """What was typed is no reading; the sentence says why."""

    typed: str
    sentence: Sentence


@dataclass(frozen=True, slots=True)
class Asked:
    """A reading that counts only when confirmed.

    `value_um` is what was typed; `instead_um` is what may have been meant.
    """

    typed: str
    value_um: float
    sentence: Sentence
    instead_um: float | None = None


Parsed = Accepted | Refused | Asked


@dataclass(frozen=True, slots=True)
class NoReading(Sentence):
    template: ClassVar[str] = "No reading was typed."


@dataclass(frozen=True, slots=True)
class NotANumber(Sentence):
    template: ClassVar[str] = (
        "'%(typed)s' is not a number. Type the reading in micrometres, such as 112.4."
    )
    typed: str


@dataclass(frozen=True, slots=True)
class UnclearComma(Sentence):
    template: ClassVar[str] = (
        "'%(typed)s' can be read two ways. Type one reading, with a point or comma before its decimals only."
    )
    typed: str


@dataclass(frozen=True, slots=True)
class NotAboveZero(Sentence):
    template: ClassVar[str] = (
        "%(typed)s is not above 0 µm. Set the gauge to zero on bare metal and read again."
    )
    typed: str


@dataclass(frozen=True, slots=True)
class AboveRange(Sentence):
    template: ClassVar[str] = (
        "%(typed)s µm is above %(largest_um).0f µm, more than a paint gauge reads."
    )
    typed: str
    largest_um: float


@dataclass(frozen=True, slots=True)
class PerhapsMils(Sentence):
    template: ClassVar[str] = (
        "%(typed)s µm is hardly any paint; %(typed)s mil would be %(instead_um).1f µm. Is the gauge set to mil?"
    )
    typed: str
    instead_um: float


@dataclass(frozen=True, slots=True)
class GivenInMils(Sentence):
    template: ClassVar[str] = (
        "%(typed)s is %(instead_um).1f µm. Readings are kept in micrometres: take %(instead_um).1f?"
    )
    typed: str
    instead_um: float


@dataclass(frozen=True, slots=True)
class HardlyAnyPaint(Sentence):
    template: ClassVar[str] = (
        "%(typed)s µm is hardly any paint. Read again; confirm only if the gauge shows it twice."
    )
    typed: str


@dataclass(frozen=True, slots=True)
class VeryThick(Sentence):
    template: ClassVar[str] = (
        "%(typed)s µm is more than paint usually has: filler, or a lost decimal point? Confirm if the gauge shows it."
    )
    typed: str


@dataclass(frozen=True, slots=True)
class UnlikeNeighbours(Sentence):
    template: ClassVar[str] = (
        "%(typed)s µm is far from the readings around it (%(neighbours_um).1f µm). Read again; "
        "confirm only if the gauge shows it twice."
    )
    typed: str
    neighbours_um: float


def read_reading(typed: str, neighbours_um: Sequence[float] = ()) -> Parsed:
    """Understand one typed reading in micrometres, beside the readings around it on the panel.

    Parameters
    ----------
    typed
        what stands in the field; a unit after the number is understood
    neighbours_um
        readings already accepted on this panel, any number of them
    """
    text = typed.strip()
    if not text:
        return Refused(typed, NoReading())
    unit = _UNIT.search(text)
    number = text[: unit.start()] if unit else text
    value = _value(number.strip() or text)
    if isinstance(value, Sentence):
        return Refused(typed, value)
    if unit and unit.group(1).lower().startswith("mil"):
        return _given_in_mils(typed, text, value)
    return _judged(typed, number.strip(), value, neighbours_um)


def read_readings(pasted: str, neighbours_um: Sequence[float] = ()) -> tuple[Parsed, ...]:
    """Understand many readings pasted at once, split by spaces, lines, tabs or semicolons.

    A comma followed by a space also splits; between digits it is a decimal
    comma, unless the piece holds several commas or points as well ('112,113,111').
    Each reading is judged beside all the others.  Every piece gets an answer.
    """
    pieces = [
        piece
        for token in _SPLIT.split(_SPACE_BEFORE_UNIT.sub("", pasted))
        for piece in _unlisted(token)
    ]
    alone = [read_reading(piece) for piece in pieces]
    values = [None if isinstance(parsed, Refused) else parsed.value_um for parsed in alone]
    return tuple(
        read_reading(piece, [*neighbours_um, *_others(values, place)])
        for place, piece in enumerate(pieces)
    )


def _others(values: list[float | None], place: int) -> list[float]:
    """Return the other pasted values that can be paint: forty mils in a row do not excuse one another."""
    return [
        value
        for other, value in enumerate(values)
        if other != place and value is not None and THINNEST_PAINT_UM <= value <= THICKEST_PAINT_UM
    ]


def _unlisted(token: str) -> list[str]:
    token = token.strip(",")
    parts = token.split(",")
    several = len(parts) > 2 and all(len(part) > 1 for part in parts)
    pointed = len(parts) > 1 and all("." in part for part in parts)
    return parts if several or pointed else [token] if token else []


def _value(number: str) -> float | Sentence:
    match = _NUMBER.fullmatch(number)
    if match is None:
        unclear = re.fullmatch(r"[\d.,]*\d[\d.,]*", number, re.ASCII) is not None
        return UnclearComma(number) if unclear else NotANumber(number)
    sign, whole, point, decimals = match.groups()
    if not whole and not decimals:
        return NotANumber(number)
    if point == "," and len(decimals) == 3:
        return UnclearComma(number)
    value = float(f"{whole or 0}.{decimals or 0}")
    return NotAboveZero(number) if value == 0 or sign in tuple("-−–") else value


def _given_in_mils(typed: str, text: str, value: float) -> Parsed:
    instead = micrometres_from_mils(value)
    if instead > LARGEST_READING_UM:
        return Refused(typed, AboveRange(f"{instead:.0f}", LARGEST_READING_UM))
    return Asked(typed, instead, GivenInMils(text, instead), instead)


def _judged(typed: str, number: str, value: float, neighbours_um: Sequence[float]) -> Parsed:
    if value > LARGEST_READING_UM:
        return Refused(typed, AboveRange(number, LARGEST_READING_UM))
    middle = median(neighbours_um) if neighbours_um else None
    if value < THINNEST_PAINT_UM:
        return _hardly_any(typed, number, value, middle)
    if middle is not None and not _alike(value, middle):
        return Asked(typed, value, UnlikeNeighbours(number, middle))
    if middle is None and value > THICKEST_PAINT_UM:
        return Asked(typed, value, VeryThick(number))
    return Accepted(typed, value)


def _alike(value: float, middle: float) -> bool:
    return middle / TIMES_ITS_NEIGHBOURS < value < middle * TIMES_ITS_NEIGHBOURS


def _hardly_any(typed: str, number: str, value: float, middle: float | None) -> Parsed:
    instead = micrometres_from_mils(value)
    plausible = instead > 2 * THINNEST_PAINT_UM if middle is None else _alike(instead, middle)
    if plausible:
        return Asked(typed, value, PerhapsMils(number, instead), instead)
    return Asked(typed, value, HardlyAnyPaint(number))
