"""A question as plain text, and the words and numbers in it."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from types import MappingProxyType

from academy.domain.curriculum.kinds import Interaction

_TOKEN = re.compile(r"\d+(?:[.,]\d+)*|[^\W\d_]+(?:['’][^\W\d_]+)*")
_NUMBER = r"[-−+]?\d+(?:\.\d+)?"
_VALUE = re.compile(rf"({_NUMBER})\s*([^\W\d_/%°]*[/%°]?[^\W\d_]*²?)\.?")
_RANGE = re.compile(rf"({_NUMBER})\s*[^\W\d_/%°]*\s*(?:to|-|–)\s*({_NUMBER})\s*\S*\.?")


@dataclass(frozen=True, slots=True)
class OptionWording:
    """One option as plain text."""

    number: int
    text: str


@dataclass(frozen=True, slots=True)
class Wording:
    """What a trainee reads of one question, or of one decision of a scenario.

    ``stem_markup`` keeps the author's emphasis; ``accepted`` maps a lint rule
    the author has set aside to the reason.
    """

    question_id: str
    module_id: str
    interaction: Interaction
    stem: str
    stem_markup: str
    options: tuple[OptionWording, ...]
    keys: frozenset[int]
    decision_id: str = ""
    shuffle: bool = True
    apart_from: frozenset[str] = frozenset()
    accepted: Mapping[str, str] = field(default_factory=lambda: MappingProxyType({}))

    @property
    def picks_one(self) -> bool:
        """Return whether one option of several is to be picked."""
        return self.interaction in (Interaction.CHOICE, Interaction.SCENARIO)

    @property
    def picks(self) -> bool:
        """Return whether options are picked at all, one or several."""
        return self.picks_one or self.interaction is Interaction.MULTIPLE_RESPONSE

    @property
    def right(self) -> tuple[OptionWording, ...]:
        """Return the options the key names."""
        return tuple(option for option in self.options if option.number in self.keys)

    @property
    def wrong(self) -> tuple[OptionWording, ...]:
        """Return the distractors."""
        return tuple(option for option in self.options if option.number not in self.keys)

    @property
    def question_sentence(self) -> str:
        """Return the last sentence of the stem: what is asked."""
        return last_sentence(self.stem)


class Flaw:
    """What a rule finds: a template, and the values that fill it."""

    __slots__ = ("template", "values")

    def __init__(self, template: str, /, **values: object) -> None:
        self.template = template
        self.values: Mapping[str, object] = values


@dataclass(frozen=True, slots=True)
class NumberRange:
    """An option that is a range of numbers."""

    low: float
    high: float


def words(text: str) -> tuple[str, ...]:
    """Return the words and numbers of a text in small letters."""
    return tuple(token.lower() for token in _TOKEN.findall(text))


def last_sentence(text: str) -> str:
    """Return the last sentence of a text."""
    parts = [part for part in re.split(r"(?<=[.!?:])\s+|\n+", text.strip()) if part]
    return parts[-1] if parts else ""


def number_of(text: str) -> float | None:
    """Return the number an option consists of, with or without a unit, else None."""
    match = _VALUE.fullmatch(text.strip())
    return None if match is None else float(match[1].replace("−", "-"))


def range_of(text: str) -> NumberRange | None:
    """Return the range an option consists of, else None."""
    match = _RANGE.fullmatch(text.strip())
    if match is None:
        return None
    low, high = (float(part.replace("−", "-")) for part in match.groups())
    return NumberRange(min(low, high), max(low, high))
