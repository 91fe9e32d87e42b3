"""What becomes of a typed reading: accepted, refused or asked about, and the sentences for it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from academy.domain.sentences import Sentence


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


@dataclass(frozen=True, slots=True)
class UnlikeTheSpot(Sentence):
    template: ClassVar[str] = (
        "%(typed)s µm is far from the other readings of this spot (%(spot_um).1f µm). Was the probe "
        "tilted, or dirt under it? Read again; confirm only if the gauge shows it twice."
    )
    typed: str
    spot_um: float
