"""Studying: which lesson is finished."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from uuid import UUID

from sqlalchemy.orm import Session

from academy.domain.assessment.progress import ModuleProgress, Purpose
from academy.domain.curriculum.course import Course, Module
from academy.domain.curriculum.lessons import Lesson
from academy.domain.people import Permission
from academy.services.actor import Actor
from academy.services.evidence import progress_of
from academy.store.queries.experiences import experienced_modules
from academy.store.queries.study import lessons_read, open_sitting_of
from academy.store.tables.study import LessonRead


@dataclass(frozen=True, slots=True)
class NextStep:
    """The one next thing for a trainee: a lesson, a quiz, or nothing left to study.

    ``kind`` is ``lesson``, ``restudy``, ``quiz``, ``resume``, ``examination``, ``must-know`` or
    ``practical``.
    """

    kind: str
    module: Module | None = None
    lesson: Lesson | None = None
    sitting_id: UUID | None = None


def finish_lesson(
    session: Session, *, actor: Actor, reading_id: UUID, lesson: Lesson, now: datetime
) -> None:
    """Record that the lesson was studied as it stands; sending it twice records it once."""
    actor.require(Permission.STUDY)
    if session.get(LessonRead, (actor.shop_id, reading_id)) is None:
        session.add(
            LessonRead(
                shop_id=actor.shop_id,
                id=reading_id,
                person_id=actor.person_id,
                module_id=lesson.module_id,
                lesson_id=lesson.id,
                lesson_digest=lesson.digest,
                finished_at=now,
            )
        )


def next_step(session: Session, *, actor: Actor, course: Course) -> NextStep:
    """Return the one next step of a person, in the order of the course."""
    unfinished = open_sitting_of(
        session, actor.shop_id, actor.person_id, purposes={p for p in Purpose if p.decides}
    )
    if unfinished is not None:
        kind = "examination" if unfinished.purpose == Purpose.EXAMINATION else "resume"
        return NextStep(kind, course.module(unfinished.module_id), None, unfinished.id)
    read = lessons_read(session, actor.shop_id, actor.person_id)
    progress = progress_of(session, actor.shop_id, actor.person_id)
    skipped = experienced_modules(session, actor.shop_id, actor.person_id)
    for module in course.modules:
        lessons = () if module.id in skipped else module.lessons
        step = _step_in(module, lessons, read, progress.get(module.id))
        if step is not None:
            return step
    return NextStep("practical")


def _step_in(
    module: Module,
    lessons: tuple[Lesson, ...],
    read: dict[str, str],
    known: ModuleProgress | None,
) -> NextStep | None:
    if known and known.passed_at:
        return None
    if known and known.open_must_know:
        return NextStep("must-know", module)
    for lesson in lessons:
        if lesson.path not in read:
            return NextStep("lesson", module, lesson)
        if lesson.restudy and read[lesson.path] != lesson.digest:
            return NextStep("restudy", module, lesson)
    return NextStep("quiz", module)
