"""Numbers as people type them: a decimal comma, a true minus sign, readings in a row.

What could be read in two ways is refused rather than guessed: 4,200 may be
four thousand or four.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from decimal import Decimal
from typing import ClassVar

from academy.domain.sentences import TradeError

LONGEST_NUMBER = 40
LARGEST_EXPONENT = 300

_NUMBER = re.compile(r"[+-]?(\d+([.]\d*)?|[.]\d+)(e[+-]?\d{1,4})?", re.ASCII | re.IGNORECASE)
_THOUSANDS = re.compile(r"[+-]?[1-9]\d{0,2},\d{3}", re.ASCII)
_BETWEEN = re.compile(r"[\s;|/]+|,\s+")


@dataclass(eq=False)
class NotANumber(TradeError):
    """What was typed is no number."""

    template: ClassVar[str] = "“%(typed)s” is not a number"
    typed: str


@dataclass(eq=False)
class TwoReadings(TradeError):
    """A comma that may group thousands, mark decimals or stand between two numbers."""

    template: ClassVar[str] = (
        "“%(typed)s” can be read in two ways; write a point before decimals, nothing between"
        " thousands, and a space between numbers"
    )
    typed: str


def number_typed(text: str) -> Decimal:
    """Return the number that was typed, exactly.

    Raises
    ------
    NotANumber
        If it is none, not finite, or too long to have been meant.
    TwoReadings
        If it has one comma with three digits behind it.
    """
    typed = text.strip().replace("\N{MINUS SIGN}", "-")
    if _THOUSANDS.fullmatch(typed):
        raise TwoReadings(text.strip())
    plain = typed.replace(",", ".") if typed.count(",") == 1 else typed
    if len(plain) > LONGEST_NUMBER or not _NUMBER.fullmatch(plain):
        raise NotANumber(shortened(text.strip()))
    number = Decimal(plain)
    if number and abs(number.adjusted()) > LARGEST_EXPONENT:
        raise NotANumber(shortened(text.strip()))
    return number


def pieces_typed(text: str) -> list[str]:
    """Return the numbers of a list as they were typed, whatever stands between them."""
    pieces = [piece.strip(",") for piece in _BETWEEN.split(text.strip())]
    return [part for piece in pieces if piece for part in _parted(piece)]


def shortened(text: str) -> str:
    """Return a text short enough for a sentence."""
    return text if len(text) <= LONGEST_NUMBER else text[: LONGEST_NUMBER - 1] + "…"


def _parted(piece: str) -> list[str]:
    """Part ``118,116,104``: with several commas they stand between the numbers.

    Only where no part could be the decimals of the one before it: each has a
    point of its own, or three digits and more.  The rest stays whole and is refused.
    """
    parts = piece.split(",")
    if len(parts) == 1:
        return parts
    pointed = all("." in part for part in parts)
    long = len(parts) > 2 and all(len(part.lstrip("+-\N{MINUS SIGN}")) > 2 for part in parts)
    return parts if pointed or long else [piece]
