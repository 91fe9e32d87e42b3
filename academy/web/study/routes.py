"""Studying: one next step, lessons by module."""

from __future__ import annotations

from uuid import UUID, uuid4

from flask import redirect, request, url_for
from flask.typing import ResponseReturnValue

from academy.domain.people import Permission
from academy.services import study
from academy.services.actor import Actor
from academy.services.evidence import passed_something, progress_in
from academy.services.open_forms import refuse_while_examined
from academy.store.queries.experiences import experienced_modules
from academy.store.queries.refreshers import handed_out
from academy.store.queries.study import lessons_read
from academy.web.context import academy, clock, course, db, unit_of_work
from academy.web.forms import kept_id
from academy.web.identity import anybody, requires, safe_next, signed_in
from academy.web.pages import render
from academy.web.parts import Link
from academy.web.reading_units import System, choose_system, chosen_system
from academy.web.study import looking_up, sheets
from academy.web.study.blueprint import bp
from academy.web.study.lines import lesson_lines, module_lines, quiz_state, step_part
from academy.web.study.pages import (
    CoursePage,
    LessonPage,
    ModulePage,
    ProblemsPage,
    StartPage,
)
from academy.web.study.parts_of_course import cautions_called, lesson_called, module_called

OPEN_WHILE_EXAMINED = {"study.start", "study.course_overview", "study.choose_units"}

# Importing the other two puts their addresses into the blueprint.
__all__ = ["bp", "looking_up", "sheets"]


@bp.before_request
def _closed_book() -> None:
    """Keep what teaches shut while the reader is being examined; where to go on stays open."""
    reader = anybody()
    if reader is not None and request.endpoint not in OPEN_WHILE_EXAMINED:
        refuse_while_examined(db(), reader.actor)


@bp.get("/")
@requires(Permission.STUDY)
def start() -> ResponseReturnValue:
    """Show the one next step: a board for an owner, a panel for a supervisor, study for a trainee."""
    actor = signed_in()
    if not actor.may(Permission.ASSESS_PRACTICAL) and actor.may(Permission.INVITE_PERSON):
        return redirect(url_for("certification.board"), code=303)
    if actor.may(Permission.ASSESS_PRACTICAL):
        return redirect(url_for("practicals.overview"), code=303)
    return render(
        StartPage(
            step_part(study.next_step(db(), actor=actor, course=course())),
            may_refresh=passed_something(db(), actor.shop_id, actor.person_id),
            refresher_waits=handed_out(db(), actor.shop_id, actor.person_id),
            refresher_id=uuid4(),
        )
    )


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
            trainer_sheets=_trainer_sheets(actor),
            refresher_url=url_for("quizzes.refresher"),
        )
    )


@bp.get("/course/<module_id>")
@requires(Permission.STUDY)
def module(module_id: str) -> ResponseReturnValue:
    """Show one module."""
    actor, found = signed_in(), module_called(module_id)
    progress = progress_in(db(), actor.shop_id, actor.person_id, module_id)
    return render(
        ModulePage(
            module=found,
            cautions=cautions_called(found.cautions),
            lessons=lesson_lines(found, lessons_read(db(), actor.shop_id, actor.person_id)),
            quiz_state=quiz_state(progress),
            may_sit=progress.passed_at is None,
            may_skip_lessons=module_id in experienced_modules(db(), actor.shop_id, actor.person_id),
            sitting_id=uuid4(),
            practice_id=uuid4(),
            trainer_sheet_url=(
                sheets.trainer_sheet_url(found) if actor.may(Permission.READ_TRAINER_SHEET) else ""
            ),
        )
    )


@bp.get("/course/<module_id>/<lesson_id>")
@requires(Permission.STUDY)
def lesson(module_id: str, lesson_id: str) -> ResponseReturnValue:
    """Show one lesson."""
    actor, found = signed_in(), lesson_called(module_id, lesson_id)
    read = lessons_read(db(), actor.shop_id, actor.person_id)
    return render(
        LessonPage(
            module=module_called(module_id),
            lesson=found,
            cautions=cautions_called(found.cautions),
            finished=read.get(found.path) == found.digest,
            reading_id=uuid4(),
            units=chosen_system(),
            units_url=url_for("study.choose_units"),
        )
    )


@bp.post("/units")
@requires(Permission.STUDY)
def choose_units() -> ResponseReturnValue:
    """Remember on this device in which units lessons are read."""
    us = request.form.get("units") == System.US
    choose_system(System.US if us else System.METRIC)
    return redirect(safe_next(request.form.get("next")), code=303)


@bp.post("/course/<module_id>/<lesson_id>")
@requires(Permission.STUDY)
def finish_lesson(module_id: str, lesson_id: str) -> ResponseReturnValue:
    """Record the lesson as studied and go to the next step."""
    found = lesson_called(module_id, lesson_id)
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


def _trainer_sheets(actor: Actor) -> tuple[Link, ...]:
    """Return the sheets of the practical tasks, for those who assess and plan."""
    if not actor.may(Permission.READ_TRAINER_SHEET):
        return ()
    return tuple(
        Link(task.title, url_for("study.task_trainer_sheet", task_id=task.id))
        for task in course().tasks
    )
