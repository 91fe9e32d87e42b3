"""The course: its modules, and everything else compiled from ``content/``.

Text fields named ``*_html`` are rendered and sanitised.  Identifiers are the words an author writes; the
digest of the source stands beside everything a record may later point at.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from types import MappingProxyType

from academy.domain.curriculum.lessons import Caution, Fact, GlossaryTerm, Lesson, Objective
from academy.domain.curriculum.questions import Blueprint, Question
from academy.domain.curriculum.schemes import Scheme, SpokenQuestion
from academy.domain.curriculum.tasks import Drill, PracticalTask


@dataclass(frozen=True, slots=True)
class Module:
    """One module of the course with its lessons and questions."""

    id: str
    number: int
    title: str
    summary_html: str
    cautions: tuple[str, ...]
    objectives: tuple[Objective, ...]
    lessons: tuple[Lesson, ...]
    questions: tuple[Question, ...]
    blueprint: Blueprint
    digest: str
    trainer_sheet_html: str = ""

    @property
    def must_know(self) -> tuple[Objective, ...]:
        """Return the objectives that have each to be met on their own."""
        return tuple(objective for objective in self.objectives if objective.must_know)


@dataclass(frozen=True, slots=True)
class Course:
    """Everything compiled from ``content/``; ``digest`` changes when any source does.

    ``kinds_of_work`` maps the id of a kind of work to what pages call it.
    """

    title: str
    modules: tuple[Module, ...]
    tasks: tuple[PracticalTask, ...]
    drills: tuple[Drill, ...]
    schemes: tuple[Scheme, ...]
    cautions: tuple[Caution, ...]
    glossary: tuple[GlossaryTerm, ...]
    digest: str
    summary_html: str = ""
    kinds_of_work: Mapping[str, str] = field(default_factory=lambda: MappingProxyType({}))
    facts: tuple[Fact, ...] = ()
    spoken: tuple[SpokenQuestion, ...] = ()

    def module(self, module_id: str) -> Module | None:
        """Return the module of that name, or None."""
        return next((m for m in self.modules if m.id == module_id), None)

    def lesson(self, module_id: str, lesson_id: str) -> Lesson | None:
        """Return one lesson, or None."""
        module = self.module(module_id)
        lessons = module.lessons if module else ()
        return next((lesson for lesson in lessons if lesson.id == lesson_id), None)

    def task(self, task_id: str) -> PracticalTask | None:
        """Return the practical task of that name, or None."""
        return next((t for t in self.tasks if t.id == task_id), None)

    def scheme(self, scheme_id: str) -> Scheme | None:
        """Return the scheme of that name, or None."""
        return next((s for s in self.schemes if s.id == scheme_id), None)

    def caution(self, caution_id: str) -> Caution | None:
        """Return the caution of that name, or None."""
        return next((c for c in self.cautions if c.id == caution_id), None)

    def question(self, question_id: str) -> Question | None:
        """Return one question of any module, or None."""
        return next((q for m in self.modules for q in m.questions if q.id == question_id), None)
