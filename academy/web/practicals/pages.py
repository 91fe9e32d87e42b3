"""Pages of a practical: choosing, the panel, signing."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar
from uuid import UUID

from academy.domain.curriculum.lessons import Caution
from academy.web.pages import Page
from academy.web.parts import Choosable, Fact, Filled, Link, ReadingsTable
from academy.web.practicals.after_closing import AfterClosing
from academy.web.practicals.doubt_pages import DoubtShown
from academy.web.practicals.record_cards import CriterionLine
from academy.web.practicals.recorded import Said
from academy.web.practicals.stage_pages import Offline, OpenHere


@dataclass(frozen=True, slots=True)
class PracticalLine:
    """One practical in a list."""

    title: str
    url: str
    sign: str
    state: str
    says: str


@dataclass(frozen=True, slots=True)
class OverviewPage(Page):
    """One's practicals, newest first: for a trainee the logbook."""

    template: ClassVar[str] = "practicals/overview.html"
    title: str
    practicals: tuple[PracticalLine, ...]
    may_open: bool
    places: tuple[Link, ...]


@dataclass(frozen=True, slots=True)
class OpenPage(Page):
    """What is chosen before the first reading."""

    template: ClassVar[str] = "practicals/open.html"
    form: Filled
    practical_id: UUID
    trainees: tuple[Choosable, ...]
    tasks: tuple[Choosable, ...]
    sections: tuple[Choosable, ...]
    gauges: tuple[Choosable, ...]
    kinds: tuple[Choosable, ...]


@dataclass(frozen=True, slots=True)
class StageLine:
    """One stage with what has been recorded."""

    label: str
    sign: str
    state: str
    url: str


@dataclass(frozen=True, slots=True)
class PracticalPage(Page):
    """A practical with everything recorded so far."""

    template: ClassVar[str] = "practicals/practical.html"
    practical_id: UUID
    title: str
    facts: tuple[Fact, ...]
    body_html: str
    cautions: tuple[Caution, ...]
    stages: tuple[StageLine, ...]
    next_action: Link | None
    more: tuple[Link, ...]
    open_here: tuple[OpenHere, ...]
    stop_url: str
    offline: Offline | None
    stopped: tuple[Fact, ...]
    doubt: DoubtShown
    said: tuple[Said, ...]
    readings: tuple[ReadingsTable, ...]
    verdict_sign: str
    verdict: str
    telling: tuple[str, ...]
    removal_facts: tuple[Fact, ...]
    criteria: tuple[CriterionLine, ...]
    outcome_sign: str
    outcome: str
    talk: tuple[Fact, ...]
    photographs: tuple[Link, ...]
    photograph_id: UUID
    may_record: bool
    may_close: bool
    close_form: Filled
    after: AfterClosing | None
    blind_url: str
