"""Pages of the reference panels."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar
from uuid import UUID

from academy.web.pages import Page
from academy.web.parts import Choosable, Filled, Listed


@dataclass(frozen=True, slots=True)
class SeenCriterion:
    """One criterion to judge on a reference panel."""

    id: str
    text: str
    critical: bool


@dataclass(frozen=True, slots=True)
class Difference:
    """One criterion of one panel: what was agreed, and what this supervisor said."""

    criterion: str
    sign: str
    says: str
    critical: bool


@dataclass(frozen=True, slots=True)
class ReferencesPage(Page):
    """The reference panels of a shop, and where its supervisors stand with them."""

    template: ClassVar[str] = "practicals/references.html"
    own: str
    panels: tuple[Listed, ...]
    differences: tuple[Difference, ...]
    measure: str
    supervisors: tuple[str, ...]
    tasks: tuple[Choosable, ...]


@dataclass(frozen=True, slots=True)
class NewReferencePage(Page):
    """Keeping a section as a reference panel for one task."""

    template: ClassVar[str] = "practicals/new_reference.html"
    form: Filled
    reference_id: UUID
    task_id: str
    title: str
    sections: tuple[Choosable, ...]
    supervisors: tuple[Choosable, ...]
    criteria: tuple[SeenCriterion, ...]


@dataclass(frozen=True, slots=True)
class ReferencePage(Page):
    """Judging one reference panel; what was agreed is not shown."""

    template: ClassVar[str] = "practicals/reference.html"
    form: Filled
    judgement_id: UUID
    title: str
    section_name: str
    criteria: tuple[SeenCriterion, ...]
    says: str
    may_retire: bool
    reference_id: UUID
