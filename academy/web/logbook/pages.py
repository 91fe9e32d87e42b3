"""Pages of the logbook."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar
from uuid import UUID

from academy.web.pages import Page
from academy.web.parts import Choosable, Fact, Filled, Link, Listed, ReadingsTable


@dataclass(frozen=True, slots=True)
class LogbookLine:
    """One practical, piece of practice work or drill, with what was noted for the trainee."""

    title: str
    url: str
    sign: str
    state: str
    says: str
    note: str = ""


@dataclass(frozen=True, slots=True)
class LogbookPage(Page):
    """One person's logbook."""

    template: ClassVar[str] = "logbook/logbook.html"
    title: str
    stages: ReadingsTable | None
    to_change: tuple[LogbookLine, ...]
    lines: tuple[LogbookLine, ...]
    actions: tuple[Link, ...]


@dataclass(frozen=True, slots=True)
class LogbooksPage(Page):
    """The logbooks of a shop and what waits for a supervisor."""

    template: ClassVar[str] = "logbook/logbooks.html"
    waiting: tuple[Listed, ...]
    people: tuple[Listed, ...]
    may_confirm: bool


@dataclass(frozen=True, slots=True)
class EntryFormPage(Page):
    """Entering practice work, or putting an entry right."""

    template: ClassVar[str] = "logbook/entry_form.html"
    title: str
    action: str
    form: Filled
    entry_id: UUID
    tasks: tuple[Choosable, ...]
    stages: tuple[Choosable, ...]
    machines: tuple[Choosable, ...]
    correcting: bool
    back: Link


@dataclass(frozen=True, slots=True)
class EntryPage(Page):
    """One entry with everything that happened to it."""

    template: ClassVar[str] = "logbook/entry.html"
    entry_id: UUID
    title: str
    sign: str
    state: str
    facts: tuple[Fact, ...]
    note: str
    body_html: str
    times: tuple[Listed, ...]
    may_confirm: bool
    may_change: bool
    correction_url: str
    time_form: Filled
    time_id: UUID
    machines: tuple[Choosable, ...]
    take_back_form: Filled
    new_id: UUID
    back: Link


@dataclass(frozen=True, slots=True)
class DrillLine:
    """One drill with its button; the id makes a second tap the same entry."""

    drill_id: str
    title: str
    minutes: int
    last: str
    body_html: str
    entry_id: UUID


@dataclass(frozen=True, slots=True)
class DrillsPage(Page):
    """The drills, each logged by one tap."""

    template: ClassVar[str] = "logbook/drills.html"
    title: str
    person_id: UUID
    drills: tuple[DrillLine, ...]
    back: Link


@dataclass(frozen=True, slots=True)
class DayPage(Page):
    """One person's day at machines."""

    template: ClassVar[str] = "logbook/day.html"
    title: str
    person_id: UUID
    day: str
    sign: str
    verdict: str
    missing: tuple[str, ...]
    facts: tuple[Fact, ...]
    basis: str
    lines: ReadingsTable | None
    left: ReadingsTable | None
    corrections: tuple[Listed, ...]
    may_state: bool
    asked: bool
    form: Filled
    time_id: UUID
    none_id: UUID
    machines: tuple[Choosable, ...]
    days: tuple[Link, ...]


@dataclass(frozen=True, slots=True)
class TimeCorrectionPage(Page):
    """Putting a stated time right."""

    template: ClassVar[str] = "logbook/time_correction.html"
    tool_time_id: UUID
    form: Filled
    time_id: UUID
    machines: tuple[Choosable, ...]
    back: Link


@dataclass(frozen=True, slots=True)
class ChangeLine:
    """One thing to change with what was said of it so far."""

    asked_in: UUID
    look_id: UUID
    change: str
    asked_url: str
    says: str
    form: Filled


@dataclass(frozen=True, slots=True)
class ChangesPage(Page):
    """What to look for in one practical."""

    template: ClassVar[str] = "logbook/changes.html"
    practical_id: UUID
    trainee: str
    lines: tuple[ChangeLine, ...]
    answers: tuple[Choosable, ...]
    back: Link
