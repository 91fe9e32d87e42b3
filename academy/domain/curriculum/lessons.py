"""Lessons and what they rest on: cautions, objectives, headings, words and figures of the trade."""

from __future__ import annotations

from dataclasses import dataclass

from academy.domain.curriculum.kinds import ObjectiveKind


@dataclass(frozen=True, slots=True)
class Caution:
    """A hazard and what to do about it; modules, lessons and tasks open with theirs."""

    id: str
    title: str
    text_html: str


@dataclass(frozen=True, slots=True)
class Objective:
    """One thing a trainee must know or be able to do."""

    id: str
    text: str
    kind: ObjectiveKind
    must_know: bool
    module_id: str


@dataclass(frozen=True, slots=True)
class Heading:
    """A heading inside a lesson; ``anchor`` is what a question's link points to."""

    anchor: str
    text: str
    depth: int
    line: int


@dataclass(frozen=True, slots=True)
class Lesson:
    """One lesson of a module; ``id`` is unique in its module."""

    id: str
    module_id: str
    title: str
    objectives: tuple[str, ...]
    minutes: int
    cautions: tuple[str, ...]
    headings: tuple[Heading, ...]
    body_html: str
    words: int
    figures: tuple[str, ...]
    digest: str
    restudy: bool = False
    text: str = ""
    facts: tuple[str, ...] = ()

    @property
    def path(self) -> str:
        """Return ``module/lesson``, as questions write it."""
        return f"{self.module_id}/{self.id}"


@dataclass(frozen=True, slots=True)
class HeadingLink:
    """The heading that teaches a question: ``module/lesson#anchor``."""

    module_id: str
    lesson_id: str
    anchor: str

    def __str__(self) -> str:
        return f"{self.module_id}/{self.lesson_id}#{self.anchor}"


@dataclass(frozen=True, slots=True)
class GlossaryTerm:
    """One word of the trade and what it means here."""

    id: str
    term: str
    definition_html: str


@dataclass(frozen=True, slots=True)
class Fact:
    """One figure of the trade: where it comes from and how far it is to be trusted.

    ``high`` is ``None`` for a single value.  ``unit`` is the code the facts
    files use (``um``, ``C``, ``percent``); ``confidence`` is high, medium or low.
    """

    id: str
    says: str
    low: float
    high: float | None
    unit: str
    source: str
    confidence: str
