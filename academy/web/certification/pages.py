"""Pages of the board and of the evidence behind it."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import ClassVar
from uuid import UUID

from academy.web.pages import Page
from academy.web.parts import BoardTable, Choosable, Fact, Filled, Link, Listed


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
class RestrictionLine:
    """One restriction: whom and what it holds, why, and where it is lifted."""

    title: str
    says: str
    reason: str
    lift_url: str = ""


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
    decisions: tuple[EvidenceLine, ...]
    acts: tuple[Link, ...]
    restrictions: tuple[RestrictionLine, ...]


@dataclass(frozen=True, slots=True)
class DecidePage(Page):
    """The evidence once more, and the decision under it."""

    template: ClassVar[str] = "certification/decide.html"
    person_name: str
    scheme_title: str
    evidence_url: str
    action: str
    act_id: UUID
    form: Filled
    levels: tuple[Choosable, ...]
    answers: tuple[Choosable, ...]
    facts: tuple[Fact, ...]
    lines: tuple[EvidenceLine, ...]
    one_person: bool


@dataclass(frozen=True, slots=True)
class SignedActPage(Page):
    """One signed act about a person or a kind of work: withdraw, hold back, lift, check a return."""

    template: ClassVar[str] = "certification/signed_act.html"
    heading: str
    explains: tuple[str, ...]
    back: Link
    action: str
    act_id: UUID
    form: Filled
    people: tuple[Choosable, ...]
    schemes: tuple[Choosable, ...]
    levels: tuple[Choosable, ...]
    asks_review: bool
    reason_label: str
    button: str


@dataclass(frozen=True, slots=True)
class RestrictionsPage(Page):
    """Everybody and everything held back in the shop, and what was lifted."""

    template: ClassVar[str] = "certification/restrictions.html"
    standing: tuple[RestrictionLine, ...]
    lifted: tuple[RestrictionLine, ...]
    may_restrict: bool


@dataclass(frozen=True, slots=True)
class CertificatePage(Page):
    """A certificate as issued, to read and to print."""

    template: ClassVar[str] = "certification/certificate.html"
    holder: str
    scheme_title: str
    scheme_html: str
    shop_name: str
    sign: str
    word: str
    level: str
    meaning: str
    facts: tuple[Fact, ...]
    one_person: bool
    number: str
    digest: str
