"""One typed reading, understood, refused or asked about; never silently dropped.

A supervisor types forty readings standing at a panel.  A decimal comma is
understood.  A mil typed for a micrometre, a slipped digit and a lost decimal
point are asked about; what cannot be a reading is refused in a sentence.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from statistics import median

from academy.domain.metrology.reading_answers import (
    AboveRange,
    Accepted,
    Asked,
    GivenInMils,
    HardlyAnyPaint,
    NoReading,
    NotAboveZero,
    NotANumber,
    Parsed,
    PerhapsMils,
    Refused,
    UnclearComma,
    UnlikeNeighbours,
    UnlikeTheSpot,
    VeryThick,
)
from academy.domain.sentences import Sentence
from academy.domain.units import micrometres_from_mils

__all__ = [
    "Accepted",
    "Asked",
    "Parsed",
    "Refused",
    "pieces_of",
    "read_reading",
    "read_readings",
    "unlike_the_spot",
]

LARGEST_READING_UM = 2000.0
# Common practice, no source: car paint from primer up is 60 to 400 µm, repaints and filler to 600 and
# beyond; below 15 µm nothing but a bare electrocoat is left.  3 times is far outside one panel's spread.
THINNEST_PAINT_UM = 15.0
THICKEST_PAINT_UM = 600.0
TIMES_ITS_NEIGHBOURS = 3.0
SDS_UNLIKE, LEAST_UNLIKE_UM = 4.0, 3.0

_NUMBER = re.compile(r"([+\-−–]?)(\d*)(?:([.,])(\d*))?", re.ASCII)
_UNIT = re.compile(r"\s*(µm|μm|um|mils?|micron(?:s)?)\.?$", re.IGNORECASE)
_SPLIT = re.compile(r"[\s;|]+|,\s+")
_SPACE_BEFORE_UNIT = re.compile(
    r"(?<=\d)[ \t\u00a0\u202f]+(?=(?:µm|μm|um|mils?|microns?)\b)", re.IGNORECASE
)


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
    pieces = pieces_of(pasted)
    alone = [read_reading(piece) for piece in pieces]
    values = [None if isinstance(parsed, Refused) else parsed.value_um for parsed in alone]
    return tuple(
        read_reading(piece, [*neighbours_um, *_others(values, place)])
        for place, piece in enumerate(pieces)
    )


def pieces_of(pasted: str) -> list[str]:
    """Return what was pasted, one piece a reading, each still as it was typed."""
    return [
        piece
        for token in _SPLIT.split(_SPACE_BEFORE_UNIT.sub("", pasted))
        for piece in _unlisted(token)
    ]


def unlike_the_spot(
    value_um: float, spot_um: Sequence[float], gauge_sd_um: float | None
) -> UnlikeTheSpot | None:
    """Return the question for a reading that its own spot does not bear out, or None.

    Parameters
    ----------
    spot_um
        all readings of the spot, this one among them; fewer than three say nothing
    gauge_sd_um
        the gauge's repeatability, a standard deviation

    Notes
    -----
    Four standard deviations from the spot's median, and never less than 3 µm:
    by chance once in 16,000 readings.  Common practice, no source.
    """
    if len(spot_um) < 3:
        return None
    middle = median(spot_um)
    far = max(LEAST_UNLIKE_UM, SDS_UNLIKE * (gauge_sd_um or 0))
    return UnlikeTheSpot(f"{value_um:g}", middle) if abs(value_um - middle) > far else None


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
