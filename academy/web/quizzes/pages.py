"""Pages of a sitting: one question, handing in, the result.

Nothing on a page before submission tells the key: a question is shown as a
``ShownQuestion``, which has no key, reason or mark to give away.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, ClassVar
from uuid import UUID

from academy.web.pages import Page
from academy.web.parts import Fact, Link, ReviewedAnswer


@dataclass(frozen=True, slots=True)
class ShownOption:
    """One option as shown: its number and its text."""

    number: int
    text_html: str


@dataclass(frozen=True, slots=True)
class ShownRegion:
    """One place of a hotspot figure."""

    number: int
    label: str
    left: float
    top: float
    width: float
    height: float


@dataclass(frozen=True, slots=True)
class TakenDecision:
    """A decision of a scenario that has been taken."""

    stem_html: str
    chose_html: str


@dataclass(frozen=True, slots=True)
class ShownQuestion:
    """A question without anything that tells its key."""

    id: str
    interaction: str
    stem_html: str
    options: tuple[ShownOption, ...]
    partners: tuple[ShownOption, ...]
    unit: str
    figure_html: str
    figure_notes_html: str
    regions: tuple[ShownRegion, ...]
    taken: tuple[TakenDecision, ...] = ()
    panel: tuple[Fact, ...] = ()
    decision_id: str = ""
    decision_html: str = ""
    ended: bool = False


@dataclass(frozen=True, slots=True)
class QuestionPage(Page):
    """One question of the form."""

    template: ClassVar[str] = "quizzes/question.html"
    sitting_id: UUID
    module_title: str
    position: int
    total: int
    question: ShownQuestion
    typed: dict[str, Any]
    answer_id: UUID
    again: bool
    fault: str


@dataclass(frozen=True, slots=True)
class HandInPage(Page):
    """What has been answered, before handing in."""

    template: ClassVar[str] = "quizzes/hand_in.html"
    sitting_id: UUID
    module_title: str
    answered: int
    total: int
    unanswered: tuple[Link, ...]


@dataclass(frozen=True, slots=True)
class ReviewedQuestion:
    """One question with its answer, the right one and the reasons."""

    position: int
    stem_html: str
    interaction: str
    marks: int
    sign: str
    word: str
    figure_html: str
    figure_notes_html: str
    regions: tuple[ShownRegion, ...]
    answers: tuple[ReviewedAnswer, ...]
    facts: tuple[Fact, ...]
    explanation_html: str
    teaches: Link | None
    taken: tuple[ReviewedAnswer, ...] = ()
    better: tuple[Fact, ...] = ()


@dataclass(frozen=True, slots=True)
class ReviewedObjective:
    """How one objective went, in words."""

    text: str
    must_know: bool
    sign: str
    word: str
    teaches: tuple[Link, ...]


@dataclass(frozen=True, slots=True)
class ResultPage(Page):
    """The result of a sitting with every reason."""

    template: ClassVar[str] = "quizzes/result.html"
    module_title: str
    module_url: str
    passed: bool
    verdict: str
    facts: tuple[Fact, ...]
    objectives: tuple[ReviewedObjective, ...]
    questions: tuple[ReviewedQuestion, ...]
