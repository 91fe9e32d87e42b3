"""Pages of a sitting: one question, handing in, the result.

Nothing on a page before submission tells the key: a question is shown as a
``ShownQuestion``, which has no key, reason or mark to give away.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
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
class TimeLeft:
    """When a timed sitting ends, by the server's clock."""

    ends_at: datetime
    now: datetime
    minutes: int
    over: bool


@dataclass(frozen=True, slots=True)
class QuestionPage(Page):
    """One question of the form, with the rule by which it earns its marks."""

    template: ClassVar[str] = "quizzes/question.html"
    sitting_id: UUID
    title_text: str
    position: int
    total: int
    question: ShownQuestion
    typed: dict[str, Any]
    answer_id: UUID
    seen_number: int
    rule: str
    again: bool
    counts: bool
    fault: str
    time: TimeLeft | None
    larger_print: bool


@dataclass(frozen=True, slots=True)
class HandInPage(Page):
    """What has been answered, before handing in."""

    template: ClassVar[str] = "quizzes/hand_in.html"
    sitting_id: UUID
    title_text: str
    counts: bool
    answered: int
    total: int
    unanswered: tuple[Link, ...]
    time: TimeLeft | None
    larger_print: bool


@dataclass(frozen=True, slots=True)
class RestudyPage(Page):
    """What has to be read again before the next sitting."""

    template: ClassVar[str] = "quizzes/restudy.html"
    module_title: str
    module_url: str
    lessons: tuple[Link, ...]


@dataclass(frozen=True, slots=True)
class BeginPage(Page):
    """An examination before its clock runs: the rules, and what is adjusted."""

    template: ClassVar[str] = "quizzes/begin.html"
    title_text: str
    facts: tuple[Fact, ...]
    on_paper: bool
    larger_print: bool


@dataclass(frozen=True, slots=True)
class HeldPage(Page):
    """A result near the pass mark, before the prepared questions have been asked."""

    template: ClassVar[str] = "quizzes/held.html"
    title_text: str
    larger_print: bool


@dataclass(frozen=True, slots=True)
class Questioned:
    """Where a question of a result is questioned, or what became of it."""

    url: str
    says: str = ""


@dataclass(frozen=True, slots=True)
class DebriefedStep:
    """One decision as it was taken, and the panel after it in words."""

    chose_html: str
    panel: str


@dataclass(frozen=True, slots=True)
class DebriefedPath:
    """A way through a situation: its decisions, the panel at its end, what it earns."""

    name: str
    steps: tuple[DebriefedStep, ...]
    end: str
    earns: str


@dataclass(frozen=True, slots=True)
class ReviewedQuestion:
    """One question with its answer, the right one and the reasons."""

    position: int
    stem_html: str
    interaction: str
    sign: str
    word: str
    figure_html: str
    figure_notes_html: str
    regions: tuple[ShownRegion, ...]
    answers: tuple[ReviewedAnswer, ...]
    facts: tuple[Fact, ...]
    explanation_html: str
    teaches: Link | None
    questioned: Questioned
    taken: tuple[ReviewedAnswer, ...] = ()
    paths: tuple[DebriefedPath, ...] = ()


@dataclass(frozen=True, slots=True)
class FeedbackPage(Page):
    """One question of a practice, answered: what was right and why, at once."""

    template: ClassVar[str] = "quizzes/feedback.html"
    sitting_id: UUID
    title_text: str
    back: Link | None
    position: int
    total: int
    question: ReviewedQuestion


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
    title_text: str
    back: Link | None
    larger_print: bool
    sign: str
    verdict: str
    facts: tuple[Fact, ...]
    objectives: tuple[ReviewedObjective, ...]
    questions: tuple[ReviewedQuestion, ...]
