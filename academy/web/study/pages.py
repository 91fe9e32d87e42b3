"""Pages for studying: the next step, the course, a module, a lesson, what is wrong with the course."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar
from uuid import UUID

from academy.content.problems import Problem
from academy.domain.curriculum.model import Caution, Lesson, Module
from academy.web.pages import Page
from academy.web.parts import Step


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


@dataclass(frozen=True, slots=True)
class CoursePage(Page):
    """All modules in order."""

    template: ClassVar[str] = "study/course.html"
    course_title: str
    summary_html: str
    step: Step
    modules: tuple[ModuleLine, ...]


@dataclass(frozen=True, slots=True)
class ModulePage(Page):
    """One module: its cautions, lessons, objectives and quiz."""

    template: ClassVar[str] = "study/module.html"
    module: Module
    cautions: tuple[Caution, ...]
    lessons: tuple[LessonLine, ...]
    quiz_state: str
    may_sit: bool
    sitting_id: UUID


@dataclass(frozen=True, slots=True)
class LessonPage(Page):
    """One lesson; hazards come first."""

    template: ClassVar[str] = "study/lesson.html"
    module: Module
    lesson: Lesson
    cautions: tuple[Caution, ...]
    finished: bool
    reading_id: UUID


@dataclass(frozen=True, slots=True)
class ProblemsPage(Page):
    """What is wrong with the newest source of the course."""

    template: ClassVar[str] = "study/problems.html"
    problems: tuple[Problem, ...]
    serving_older: bool
