"""Pages at the desk: signing, objecting, deciding, amending, teaching again, judging again."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar
from uuid import UUID

from academy.domain.curriculum.tasks import Criterion
from academy.web.pages import Page
from academy.web.parts import Choosable, Fact, Filled, Link, Listed, ReadingsTable
from academy.web.practicals.record_cards import RecordCard
from academy.web.practicals.recorded import Said


@dataclass(frozen=True, slots=True)
class ToSign:
    """One record that waits for a person, shown before it is ticked."""

    practical_id: str
    title: str
    people: str
    verdict: str
    means: str
    late: bool
    card: RecordCard
    whole_url: str
    object_url: str


@dataclass(frozen=True, slots=True)
class DeskPage(Page):
    """What waits for one person's signature; ``own`` is false on somebody else's device."""

    template: ClassVar[str] = "practicals/desk.html"
    form: Filled
    person_name: str
    own: bool
    records: tuple[ToSign, ...]
    others: tuple[Link, ...]


@dataclass(frozen=True, slots=True)
class ObjectPage(Page):
    """The trainee objects to a record."""

    template: ClassVar[str] = "practicals/object.html"
    form: Filled
    practical_id: UUID
    objection_id: UUID
    title: str
    card: RecordCard
    who_decides: str


@dataclass(frozen=True, slots=True)
class ObjectionsPage(Page):
    """The objections of a shop, undecided ones first."""

    template: ClassVar[str] = "practicals/objections.html"
    objections: tuple[Listed, ...]


@dataclass(frozen=True, slots=True)
class ObjectionPage(Page):
    """One objection, and its decision."""

    template: ClassVar[str] = "practicals/objection.html"
    form: Filled
    facts: tuple[Fact, ...]
    reason: str
    practical_url: str
    decided: str
    may_decide: bool
    who_decides: str
    choices: tuple[Choosable, ...]


@dataclass(frozen=True, slots=True)
class AmendPage(Page):
    """Amending a record."""

    template: ClassVar[str] = "practicals/amend.html"
    form: Filled
    practical_id: UUID
    amendment_id: UUID
    digest: str
    title: str
    criteria: tuple[Criterion, ...]
    drills: tuple[Choosable, ...]


@dataclass(frozen=True, slots=True)
class PlanAgainPage(Page):
    """A re-teach plan."""

    template: ClassVar[str] = "practicals/plan_again.html"
    form: Filled
    practical_id: UUID
    title: str
    facts: tuple[Fact, ...]
    drills: tuple[Choosable, ...]
    supervisors: tuple[Choosable, ...]


@dataclass(frozen=True, slots=True)
class SecondsPage(Page):
    """Practicals drawn to be judged again, and how second judgements agree."""

    template: ClassVar[str] = "practicals/seconds.html"
    agreement: str
    measure: str
    waiting: tuple[Listed, ...]
    given: tuple[Listed, ...]


@dataclass(frozen=True, slots=True)
class SecondPage(Page):
    """Judging a practical again from what was recorded, without how it was judged."""

    template: ClassVar[str] = "practicals/second.html"
    form: Filled
    practical_id: UUID
    title: str
    verdict: str
    said: tuple[Said, ...]
    readings: tuple[ReadingsTable, ...]
    photographs: tuple[Link, ...]
    criteria: tuple[Criterion, ...]
    answers: tuple[Choosable, ...]
    may_judge: bool
