"""Studying: one next step, lessons by module."""

from __future__ import annotations

from uuid import UUID, uuid4

from flask import Blueprint, abort, redirect, request, url_for
from flask.typing import ResponseReturnValue

from academy.domain.curriculum.model import Caution, Lesson, Module
from academy.domain.people import Permission
from academy.services import study
from academy.services.evidence import progress_in
from academy.store.queries.study import lessons_read
from academy.web.context import academy, clock, course, db, unit_of_work
from academy.web.forms import kept_id
from academy.web.identity import requires, signed_in
from academy.web.pages import render
from academy.web.study.lines import lesson_lines, module_lines, quiz_state, step_part
from academy.web.study.pages import (
    CoursePage,
    LessonPage,
    ModulePage,
    ProblemsPage,
    StartPage,
)

bp = Blueprint("study", __name__)


@bp.get("/")
@requires(Permission.STUDY)
def start() -> ResponseReturnValue:
    """Show the one next step: a board for an owner, a panel for a supervisor, study for a trainee."""
    actor = signed_in()
    if not actor.may(Permission.ASSESS_PRACTICAL) and actor.may(Permission.INVITE_PERSON):
        return redirect(url_for("certification.board"), code=303)
    if actor.may(Permission.ASSESS_PRACTICAL):
        return redirect(url_for("practicals.overview"), code=303)
    return render(StartPage(step_part(study.next_step(db(), actor=actor, course=course()))))


@bp.get("/course")
@requires(Permission.STUDY)
def course_overview() -> ResponseReturnValue:
    """Show the whole course."""
    actor = signed_in()
    return render(
        CoursePage(
            course_title=course().title,
            summary_html=course().summary_html,
            step=step_part(study.next_step(db(), actor=actor, course=course())),
            modules=module_lines(db(), actor, course()),
        )
    )


@bp.get("/course/<module_id>")
@requires(Permission.STUDY)
def module(module_id: str) -> ResponseReturnValue:
    """Show one module."""
    actor, found = signed_in(), _module(module_id)
    progress = progress_in(db(), actor.shop_id, actor.person_id, module_id)
    return render(
        ModulePage(
            module=found,
            cautions=_cautions(found.cautions),
            lessons=lesson_lines(found, lessons_read(db(), actor.shop_id, actor.person_id)),
            quiz_state=quiz_state(progress),
            may_sit=progress.passed_at is None,
            sitting_id=uuid4(),
        )
    )


@bp.get("/course/<module_id>/<lesson_id>")
@requires(Permission.STUDY)
def lesson(module_id: str, lesson_id: str) -> ResponseReturnValue:
    """Show one lesson."""
    actor, found = signed_in(), _lesson(module_id, lesson_id)
    read = lessons_read(db(), actor.shop_id, actor.person_id)
    return render(
        LessonPage(
            module=_module(module_id),
            lesson=found,
            cautions=_cautions(found.cautions),
            finished=read.get(found.path) == found.digest,
            reading_id=uuid4(),
        )
    )


@bp.post("/course/<module_id>/<lesson_id>")
@requires(Permission.STUDY)
def finish_lesson(module_id: str, lesson_id: str) -> ResponseReturnValue:
    """Record the lesson as studied and go to the next step."""
    found = _lesson(module_id, lesson_id)
    reading_id: UUID = kept_id(request.form, "reading_id")
    with unit_of_work() as session:
        study.finish_lesson(
            session, actor=signed_in(), reading_id=reading_id, lesson=found, now=clock()
        )
    return redirect(url_for("study.module", module_id=module_id), code=303)


@bp.get("/course-check")
@requires(Permission.READ_COURSE_PROBLEMS)
def problems() -> ResponseReturnValue:
    """Show the owner what is wrong with the newest source."""
    library = academy().library
    found = tuple(library.problems)
    return render(ProblemsPage(found, any(p.severity == "error" for p in found)))


def _module(module_id: str) -> Module:
    found = course().module(module_id)
    if found is None:
        abort(404)
    return found


def _lesson(module_id: str, lesson_id: str) -> Lesson:
    found = course().lesson(module_id, lesson_id)
    if found is None:
        abort(404)
    return found


def _cautions(ids: tuple[str, ...]) -> tuple[Caution, ...]:
    found = (course().caution(caution_id) for caution_id in ids)
    return tuple(caution for caution in found if caution is not None)
