"""Pages for studying: the next step, the course and its parts, looking up, sheets to print."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar
from uuid import UUID

from academy.content.problems import Problem
from academy.content.search import Piece
from academy.domain.curriculum.course import Module
from academy.domain.curriculum.lessons import Caution, GlossaryTerm, Lesson
from academy.domain.curriculum.tasks import PracticalTask
from academy.web.pages import Page
from academy.web.parts import Fact, Link, Step
from academy.web.reading_units import System


@dataclass(frozen=True, slots=True)
class ModuleLine:
    """One module in the list of the course, with where the reader is."""

    number: int
    title: str
    url: str
    sign: str
    state: str


@dataclass(frozen=True, slots=True)
class LessonLine:
    """One lesson in the list of its module."""

    title: str
    url: str
    minutes: int
    sign: str
    state: str


@dataclass(frozen=True, slots=True)
class StartPage(Page):
    """The one next step of whoever is signed in."""

    template: ClassVar[str] = "study/start.html"
    step: Step
    may_refresh: bool
    refresher_waits: bool
    refresher_id: UUID


@dataclass(frozen=True, slots=True)
class CoursePage(Page):
    """All modules in order."""

    template: ClassVar[str] = "study/course.html"
    course_title: str
    summary_html: str
    step: Step
    modules: tuple[ModuleLine, ...]
    trainer_sheets: tuple[Link, ...]
    refresher_url: str


@dataclass(frozen=True, slots=True)
class ModulePage(Page):
    """One module: its cautions, lessons, objectives and quiz."""

    template: ClassVar[str] = "study/module.html"
    module: Module
    cautions: tuple[Caution, ...]
    lessons: tuple[LessonLine, ...]
    quiz_state: str
    may_sit: bool
    may_skip_lessons: bool
    sitting_id: UUID
    practice_id: UUID
    trainer_sheet_url: str


@dataclass(frozen=True, slots=True)
class LessonPage(Page):
    """One lesson; hazards come first."""

    template: ClassVar[str] = "study/lesson.html"
    module: Module
    lesson: Lesson
    cautions: tuple[Caution, ...]
    finished: bool
    reading_id: UUID
    units: str = System.METRIC
    units_url: str = ""


@dataclass(frozen=True, slots=True)
class ProblemsPage(Page):
    """What is wrong with the newest source of the course."""

    template: ClassVar[str] = "study/problems.html"
    problems: tuple[Problem, ...]
    serving_older: bool


@dataclass(frozen=True, slots=True)
class Letter:
    """The terms that begin with one letter."""

    letter: str
    terms: tuple[GlossaryTerm, ...]


@dataclass(frozen=True, slots=True)
class GlossaryPage(Page):
    """Every term with its meaning."""

    template: ClassVar[str] = "study/glossary.html"
    letters: tuple[Letter, ...]


@dataclass(frozen=True, slots=True)
class FoundLine:
    """One result: its heading, where it stands, and the words around what was looked for."""

    title: str
    url: str
    where: str
    snippet: tuple[Piece, ...]


@dataclass(frozen=True, slots=True)
class SearchPage(Page):
    """What fits best, best first."""

    template: ClassVar[str] = "study/search.html"
    typed: str
    results: tuple[FoundLine, ...]


@dataclass(frozen=True, slots=True)
class LessonSummary:
    """One lesson on a module's sheet."""

    title: str
    headings: tuple[str, ...]
    summed_up_html: str


@dataclass(frozen=True, slots=True)
class FactLine:
    """One number of the trade with its source."""

    says: str
    value: str
    source: str


@dataclass(frozen=True, slots=True)
class SummaryPage(Page):
    """A module on a sheet."""

    template: ClassVar[str] = "study/summary.html"
    module: Module
    cautions: tuple[Caution, ...]
    lessons: tuple[LessonSummary, ...]
    numbers: tuple[FactLine, ...]


@dataclass(frozen=True, slots=True)
class ModuleTrainerSheetPage(Page):
    """What the trainer of a module brings, shows and watches for."""

    template: ClassVar[str] = "study/module_trainer_sheet.html"
    module: Module
    cautions: tuple[Caution, ...]
    facts: tuple[Fact, ...]


@dataclass(frozen=True, slots=True)
class TaskTrainerSheetPage(Page):
    """A practical task as the supervisor takes it to the panel."""

    template: ClassVar[str] = "study/task_trainer_sheet.html"
    task: PracticalTask
    cautions: tuple[Caution, ...]
    facts: tuple[Fact, ...]
