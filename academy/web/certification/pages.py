"""Pages of the board and of the evidence behind it."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import ClassVar

from academy.web.pages import Page
from academy.web.parts import BoardTable, Listed


@dataclass(frozen=True, slots=True)
class BoardPage(Page):
    """People down, kinds of work across."""

    template: ClassVar[str] = "certification/board.html"
    board: BoardTable
    today: date
    doubts: tuple[Listed, ...]


@dataclass(frozen=True, slots=True)
class LevelLine:
    """What one level asks, and whether it is met."""

    word: str
    sign: str
    asks: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class EvidenceLine:
    """One piece of evidence, with where it can be read."""

    title: str
    says: str
    sign: str
    url: str


@dataclass(frozen=True, slots=True)
class EvidencePage(Page):
    """All that stands behind one cell of the board."""

    template: ClassVar[str] = "certification/evidence.html"
    person_name: str
    scheme_title: str
    scheme_html: str
    sign: str
    word: str
    says: tuple[str, ...]
    levels: tuple[LevelLine, ...]
    modules: tuple[EvidenceLine, ...]
    practicals: tuple[EvidenceLine, ...]
    scheme_version: int
    scheme_digest: str
