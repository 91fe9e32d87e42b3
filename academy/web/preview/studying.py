"""The addresses for studying, for a reader who has done nothing yet."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from uuid import UUID

from flask import redirect, request, url_for
from flask.typing import ResponseReturnValue

from academy.domain.curriculum.course import Course
from academy.web.context import course
from academy.web.identity import public
from academy.web.language import gettext as _
from academy.web.pages import render
from academy.web.parts import Link, Step
from academy.web.study.lines import NOT_SAT, lesson_lines, quiz_state
from academy.web.study.looking_up import glossary_page, search_page
from academy.web.study.pages import CoursePage, LessonPage, ModuleLine, ModulePage
from academy.web.study.parts_of_course import (
    cautions_called,
    lesson_called,
    module_called,
    task_called,
)
from academy.web.study.sheets import (
    module_trainer_page,
    summary_page,
    task_trainer_page,
    trainer_sheet_url,
)

NOBODY = UUID(int=0)


@public
def start() -> ResponseReturnValue:
    """Go to everything there is."""
    return redirect(url_for("preview.contents"), code=303)


@public
def course_overview() -> ResponseReturnValue:
    """Show the course."""
    good = course()
    return render(
        CoursePage(
            course_title=good.title,
            summary_html=good.summary_html,
            step=_first_step(good),
            modules=tuple(
                ModuleLine(
                    module.number,
                    module.title,
                    url_for("study.module", module_id=module.id),
                    "other",
                    _("not begun"),
                )
                for module in good.modules
            ),
            trainer_sheets=tuple(
                Link(task.title, url_for("study.task_trainer_sheet", task_id=task.id))
                for task in good.tasks
            ),
            refresher_url="",
        )
    )


@public
def module(module_id: str) -> ResponseReturnValue:
    """Show one module."""
    found = module_called(module_id)
    return render(
        ModulePage(
            module=found,
            cautions=cautions_called(found.cautions),
            lessons=lesson_lines(found, {}),
            quiz_state=quiz_state(NOT_SAT),
            may_sit=True,
            may_skip_lessons=False,
            sitting_id=NOBODY,
            practice_id=NOBODY,
            trainer_sheet_url=trainer_sheet_url(found),
        )
    )


@public
def lesson(module_id: str, lesson_id: str) -> ResponseReturnValue:
    """Show one lesson."""
    found = lesson_called(module_id, lesson_id)
    return render(
        LessonPage(
            module=module_called(module_id),
            lesson=found,
            cautions=cautions_called(found.cautions),
            finished=False,
            reading_id=NOBODY,
        )
    )


@public
def glossary() -> ResponseReturnValue:
    """Show the glossary."""
    return render(glossary_page(course()))


@public
def search() -> ResponseReturnValue:
    """Search the draft."""
    return render(search_page(course(), request.args.get("q", "")))


@public
def summary(module_id: str) -> ResponseReturnValue:
    """Show a module on a sheet."""
    return render(summary_page(module_called(module_id), course()))


@public
def module_trainer_sheet(module_id: str) -> ResponseReturnValue:
    """Show the trainer's sheet of a module."""
    return render(module_trainer_page(module_called(module_id)))


@public
def task_trainer_sheet(task_id: str) -> ResponseReturnValue:
    """Show the trainer's sheet of a task."""
    return render(task_trainer_page(task_called(task_id)))


def _first_step(course: Course) -> Step:
    found = next((lesson for module in course.modules for lesson in module.lessons), None)
    if found is None:
        return Step(_("Write the first lesson"), url_for("preview.contents"), _("Everything"))
    url = url_for("study.lesson", module_id=found.module_id, lesson_id=found.id)
    return Step(found.title, url, _("Open the lesson"), minutes=found.minutes)


VIEWS: Mapping[str, Callable[..., ResponseReturnValue]] = {
    f"study.{view.__name__}": view
    for view in (
        start,
        course_overview,
        module,
        lesson,
        glossary,
        search,
        summary,
        module_trainer_sheet,
        task_trainer_sheet,
    )
}
