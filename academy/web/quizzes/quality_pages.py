"""Pages on which an owner judges the questions."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar
from uuid import UUID

from academy.figures import Figure
from academy.web.pages import Page
from academy.web.parts import Choosable, Fact, Filled, Link, Listed, ReadingsTable


@dataclass(frozen=True, slots=True)
class ToMend:
    """One question on the list, with every reason."""

    link: Link
    where: str
    stem: str
    reasons: tuple[str, ...]
    share: str


@dataclass(frozen=True, slots=True)
class QualityPage(Page):
    """All questions: what to mend first and why, what was decided, and the way to each quiz."""

    template: ClassVar[str] = "quizzes/quality.html"
    says: str
    to_mend: tuple[ToMend, ...]
    more: str
    decided: tuple[Listed, ...]
    quizzes: tuple[Listed, ...]
    examinations: tuple[Listed, ...]


@dataclass(frozen=True, slots=True)
class QuizQualityPage(Page):
    """One quiz or examination: how far its pass mark can be trusted; and a quiz's questions."""

    template: ClassVar[str] = "quizzes/quiz_quality.html"
    title_text: str
    rate_again_url: str
    facts: tuple[Fact, ...]
    says: tuple[str, ...]
    behind: tuple[str, ...]
    longer: ReadingsTable | None
    figure: Figure | None
    questions: ReadingsTable | None
    links: tuple[Listed, ...]


@dataclass(frozen=True, slots=True)
class ShownWording:
    """One wording with its options, what was taken, and its figure."""

    when: str
    stem_html: str
    figure_html: str
    share: str
    facts: tuple[Fact, ...]
    options: ReadingsTable | None
    figure: Figure | None


@dataclass(frozen=True, slots=True)
class JudgedQuestionPage(Page):
    """One question: its reasons, its wording, its answers, its ratings, its history."""

    template: ClassVar[str] = "quizzes/judged_question.html"
    form: Filled
    note_id: UUID
    title_text: str
    quiz: Link
    reasons: tuple[str, ...]
    rests: str
    now: ShownWording
    earlier: tuple[ShownWording, ...]
    teaches: Link | None
    ratings: tuple[Fact, ...]
    rating_reason: str
    history: tuple[str, ...]
    choices: tuple[Choosable, ...]
