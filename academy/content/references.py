"""Everything a text may point to, and what has been pointed to."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass, field

from academy.content.problems import Place
from academy.domain.curriculum.lessons import Fact, GlossaryTerm


@dataclass(frozen=True, slots=True)
class Addresses:
    """Where the pages of the site stand; the fields in braces are filled in."""

    lesson: str = "/course/{module}/{lesson}#{anchor}"
    term: str = "/glossary#{term}"
    calculator: str = "/calculators/{name}"


@dataclass(frozen=True, slots=True)
class LessonSign:
    """What a link to a lesson needs to know of it."""

    title: str
    anchors: Mapping[str, str]


@dataclass(slots=True)
class References:
    """The names texts may use; filled before the first text is set.

    ``lessons`` maps ``module/lesson`` to its sign, ``terms`` an id to its word;
    ``glossary`` holds the terms with their meanings once they are set.
    ``fact_places`` and ``figure_kinds`` gather what is used, as texts are set.
    """

    facts: dict[str, Fact] = field(default_factory=dict)
    fact_lines: dict[str, Place] = field(default_factory=dict)
    terms: dict[str, str] = field(default_factory=dict)
    glossary: tuple[GlossaryTerm, ...] = ()
    lessons: dict[str, LessonSign] = field(default_factory=dict)
    addresses: Addresses = field(default_factory=Addresses)
    fact_places: dict[str, list[Place]] = field(default_factory=lambda: defaultdict(list))
    figure_kinds: set[str] = field(default_factory=set)
    figures_drawn: int = 0
