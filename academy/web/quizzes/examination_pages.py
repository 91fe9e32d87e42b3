"""Pages of examinations as supervisors see them."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar
from uuid import UUID

from academy.web.pages import Page
from academy.web.parts import Choosable, Fact, Filled, Link, Listed
from academy.web.quizzes.pages import ShownQuestion


@dataclass(frozen=True, slots=True)
class ExaminationsPage(Page):
    """The examinations of the shop."""

    template: ClassVar[str] = "quizzes/examinations.html"
    may_open: bool
    examinations: tuple[Listed, ...]


@dataclass(frozen=True, slots=True)
class OpenExaminationPage(Page):
    """Opening an examination for somebody."""

    template: ClassVar[str] = "quizzes/open_examination.html"
    form: Filled
    examination_id: UUID
    trainees: tuple[Choosable, ...]
    schemes: tuple[Choosable, ...]
    languages: tuple[Choosable, ...]
    adjustments: tuple[Choosable, ...]


@dataclass(frozen=True, slots=True)
class SpokenAsked:
    """A prepared question that has been asked."""

    text_html: str
    model_answer_html: str
    note: str
    satisfactory: bool


@dataclass(frozen=True, slots=True)
class SpokenToAsk:
    """A prepared question to ask, with what a good answer says."""

    id: str
    text_html: str
    model_answer_html: str


@dataclass(frozen=True, slots=True)
class ExaminationPage(Page):
    """One examination: its conditions, where it stands, and what is to be done."""

    template: ClassVar[str] = "quizzes/examination.html"
    examination_id: UUID
    scheme_title: str
    facts: tuple[Fact, ...]
    sign: str
    state: str
    may_close: bool
    may_withdraw: bool
    paper: tuple[Link, ...]
    asked: tuple[SpokenAsked, ...]
    to_ask: tuple[SpokenToAsk, ...]
    answers: tuple[Choosable, ...]
    form: Filled


@dataclass(frozen=True, slots=True)
class PaperOption:
    """One option of a printed question and the letter it goes by."""

    number: int
    letter: str
    text_html: str
    goes_on: str = ""


@dataclass(frozen=True, slots=True)
class PaperTurn:
    """One decision of a situation that unfolds, as printed."""

    name: str
    stem_html: str
    options: tuple[PaperOption, ...]


@dataclass(frozen=True, slots=True)
class PaperQuestion:
    """A question as printed: nothing on it tells its key."""

    position: int
    rule: str
    how: str
    shown: ShownQuestion
    options: tuple[PaperOption, ...]
    partners: tuple[PaperOption, ...]
    turns: tuple[PaperTurn, ...]


@dataclass(frozen=True, slots=True)
class PaperPage(Page):
    """An examination to print and write on."""

    template: ClassVar[str] = "quizzes/paper.html"
    scheme_title: str
    examination_url: str
    facts: tuple[Fact, ...]
    questions: tuple[PaperQuestion, ...]
    larger_print: bool


@dataclass(frozen=True, slots=True)
class KeyLine:
    """What is right for one printed question."""

    position: int
    right: str
    explanation_html: str


@dataclass(frozen=True, slots=True)
class KeyPage(Page):
    """The key of a printed examination."""

    template: ClassVar[str] = "quizzes/key.html"
    scheme_title: str
    examination_url: str
    facts: tuple[Fact, ...]
    lines: tuple[KeyLine, ...]


@dataclass(frozen=True, slots=True)
class EntryQuestion:
    """One question of a paper to enter; ``prefix`` keeps its controls apart from the others."""

    position: int
    prefix: str
    paper: PaperQuestion
    differs: bool


@dataclass(frozen=True, slots=True)
class EnterPaperPage(Page):
    """Entering a paper as one person reads it."""

    template: ClassVar[str] = "quizzes/enter_paper.html"
    examination_id: UUID
    scheme_title: str
    candidate: str
    says: str
    fault: str
    questions: tuple[EntryQuestion, ...]
    typed: dict[str, object]
