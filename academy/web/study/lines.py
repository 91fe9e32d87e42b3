"""Where a reader is with the course, in words."""

from __future__ import annotations

from flask import url_for
from sqlalchemy.orm import Session

from academy.domain.assessment.progress import ModuleProgress
from academy.domain.curriculum.course import Course, Module
from academy.services.actor import Actor
from academy.services.evidence import progress_of
from academy.services.study import NextStep
from academy.store.queries.study import lessons_read
from academy.web.language import gettext as _
from academy.web.language import ngettext
from academy.web.parts import Step
from academy.web.study.pages import LessonLine, ModuleLine

NOT_SAT = ModuleProgress(None, (), 0)


def step_part(step: NextStep) -> Step:
    """Return the next step as a page shows it."""
    module, lesson = step.module, step.lesson
    if step.kind == "examination" and step.sitting_id is not None:
        return Step(
            _("An examination is open for you"),
            url_for("quizzes.sitting", sitting_id=step.sitting_id),
            _("Go to the examination"),
            _("Its time runs once you begin it."),
        )
    if step.kind == "resume" and step.sitting_id is not None:
        return Step(
            _("A quiz you have begun"),
            url_for("quizzes.sitting", sitting_id=step.sitting_id),
            _("Go on with the quiz"),
            _("Every answer you gave is there."),
        )
    if lesson is not None and module is not None:
        reason = (
            _("This lesson has changed in a way that matters; read it again.")
            if step.kind == "restudy"
            else _("Module %(number)d: %(title)s", number=module.number, title=module.title)
        )
        url = url_for("study.lesson", module_id=module.id, lesson_id=lesson.id)
        return Step(lesson.title, url, _("Open the lesson"), reason, lesson.minutes)
    if module is not None:
        return _quiz_step(step.kind, module)
    return Step(
        _("Work at a practice panel"),
        url_for("practicals.overview"),
        _("See your practicals"),
        _("Every module is passed. Agree a panel session with your supervisor."),
    )


def _quiz_step(kind: str, module: Module) -> Step:
    url = url_for("study.module", module_id=module.id) + "#quiz"
    if kind == "must-know":
        return Step(
            _("Answer what you must know: %(title)s", title=module.title),
            url,
            _("Read it again and answer"),
            _("You reached the pass mark. What you must know is asked again in other words."),
        )
    return Step(
        _("The quiz of %(title)s", title=module.title),
        url,
        _("Go to the quiz"),
        _("You have studied the module."),
    )


def module_lines(session: Session, actor: Actor, course: Course) -> tuple[ModuleLine, ...]:
    """Return the modules with where the reader is."""
    progress = progress_of(session, actor.shop_id, actor.person_id)
    read = lessons_read(session, actor.shop_id, actor.person_id)
    return tuple(
        _module_line(module, progress.get(module.id, NOT_SAT), read) for module in course.modules
    )


def _module_line(module: Module, progress: ModuleProgress, read: dict[str, str]) -> ModuleLine:
    url = url_for("study.module", module_id=module.id)
    if progress.passed_at is not None:
        return ModuleLine(module.number, module.title, url, "right", _("passed"))
    finished = sum(lesson.path in read for lesson in module.lessons)
    if progress.sittings or finished:
        state = _(
            "%(finished)d of %(lessons)d lessons read, quiz not passed",
            finished=finished,
            lessons=len(module.lessons),
        )
        return ModuleLine(module.number, module.title, url, "chosen", state)
    return ModuleLine(module.number, module.title, url, "other", _("not begun"))


def lesson_lines(module: Module, read: dict[str, str]) -> tuple[LessonLine, ...]:
    """Return the lessons of a module with what has been read."""
    lines = []
    for lesson in module.lessons:
        sign, state = "other", _("not read")
        if read.get(lesson.path) == lesson.digest:
            sign, state = "right", _("read")
        elif lesson.path in read:
            sign, state = "chosen", _("changed since you read it")
        url = url_for("study.lesson", module_id=module.id, lesson_id=lesson.id)
        lines.append(LessonLine(lesson.title, url, lesson.minutes, sign, state))
    return tuple(lines)


def quiz_state(progress: ModuleProgress) -> str:
    """Return in words where the reader is with a module's quiz."""
    if progress.passed_at is not None:
        return _("You have passed the quiz of this module.")
    if progress.open_must_know:
        return ngettext(
            "You reached the pass mark. One thing you must know is asked again in other words.",
            "You reached the pass mark. %(num)s things you must know are asked again in other words.",
            len(progress.open_must_know),
        )
    if progress.sittings:
        return _("You have not passed yet. Read again what was missed, then sit another form.")
    return _("You have not sat this quiz yet.")
