"""Pages of disputed questions, and of prior experience."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar
from uuid import UUID

from academy.web.pages import Page
from academy.web.parts import Choosable, Fact, Filled, Listed
from academy.web.quizzes.pages import ReviewedQuestion


@dataclass(frozen=True, slots=True)
class DisputeFormPage(Page):
    """Questioning one item of one's own result."""

    template: ClassVar[str] = "quizzes/dispute_form.html"
    form: Filled
    dispute_id: UUID
    result_url: str
    position: int
    stem_html: str


@dataclass(frozen=True, slots=True)
class DisputesPage(Page):
    """The disputed questions of the shop, undecided ones first."""

    template: ClassVar[str] = "quizzes/disputes.html"
    disputes: tuple[Listed, ...]


@dataclass(frozen=True, slots=True)
class DisputePage(Page):
    """One disputed question, with the answer given and every reason."""

    template: ClassVar[str] = "quizzes/dispute.html"
    form: Filled
    facts: tuple[Fact, ...]
    reason: str
    question: ReviewedQuestion
    decided: str
    choices: tuple[Choosable, ...]


@dataclass(frozen=True, slots=True)
class RecordedExperience:
    """What was recorded for one person."""

    name: str
    modules: str
    statement: str
    says: str


@dataclass(frozen=True, slots=True)
class ExperiencePage(Page):
    """Recording the prior experience of a person."""

    template: ClassVar[str] = "quizzes/experience.html"
    form: Filled
    experience_id: UUID
    people: tuple[Choosable, ...]
    modules: tuple[Choosable, ...]
    recorded: tuple[RecordedExperience, ...]
