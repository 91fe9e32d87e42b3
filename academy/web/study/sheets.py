"""Sheets to print: a module on paper, and what the trainer takes to the panel."""

from __future__ import annotations

import re
from collections.abc import Iterator

from flask import abort, url_for
from flask.typing import ResponseReturnValue

from academy.content.glossary_links import without_meanings
from academy.content.quantities import fact_text
from academy.domain.curriculum.course import Course, Module
from academy.domain.curriculum.kinds import Substrate
from academy.domain.curriculum.lessons import Lesson
from academy.domain.curriculum.tasks import PracticalTask
from academy.domain.people import Permission
from academy.web.context import course
from academy.web.identity import requires
from academy.web.language import gettext as _
from academy.web.language import ngettext
from academy.web.pages import render
from academy.web.parts import Fact
from academy.web.study.blueprint import bp
from academy.web.study.pages import (
    FactLine,
    LessonSummary,
    ModuleTrainerSheetPage,
    SummaryPage,
    TaskTrainerSheetPage,
)
from academy.web.study.parts_of_course import cautions_called, module_called, task_called

# What a lesson says about the result, whatever its other headings are.
SUMMED_UP = ("What good looks like", "What goes wrong and why")


@bp.get("/course/<module_id>/summary")
@requires(Permission.STUDY)
def summary(module_id: str) -> ResponseReturnValue:
    """Show a module on one sheet."""
    return render(summary_page(module_called(module_id), course()))


@bp.get("/course/<module_id>/trainer-sheet")
@requires(Permission.READ_TRAINER_SHEET)
def module_trainer_sheet(module_id: str) -> ResponseReturnValue:
    """Show what the trainer brings, shows and watches for."""
    return render(module_trainer_page(module_called(module_id)))


@bp.get("/tasks/<task_id>/trainer-sheet")
@requires(Permission.READ_TRAINER_SHEET)
def task_trainer_sheet(task_id: str) -> ResponseReturnValue:
    """Show a practical task as the supervisor takes it to the panel."""
    return render(task_trainer_page(task_called(task_id)))


def summary_page(module: Module, course: Course) -> SummaryPage:
    """Return a module with its cautions, objectives, numbers and what good looks like."""
    return SummaryPage(
        module=module,
        cautions=cautions_called(module.cautions),
        lessons=tuple(
            LessonSummary(lesson.title, _headings(lesson), _summed_up(lesson))
            for lesson in module.lessons
        ),
        numbers=tuple(_numbers(module, course)),
    )


def module_trainer_page(module: Module) -> ModuleTrainerSheetPage:
    """Return the trainer's sheet of a module; 404 where the author wrote none."""
    if not module.trainer_sheet_html:
        abort(404)
    return ModuleTrainerSheetPage(
        module=module,
        cautions=cautions_called(module.cautions),
        facts=(
            Fact(_("Lessons"), str(len(module.lessons))),
            Fact(
                _("Reading time"),
                _minutes(sum(lesson.minutes for lesson in module.lessons)),
            ),
            Fact(
                _("Quiz"), ngettext("one question", "%(num)s questions", module.blueprint.questions)
            ),
        ),
    )


def task_trainer_page(task: PracticalTask) -> TaskTrainerSheetPage:
    """Return a task with its frame, set-up checks, criteria and the trainer's part."""
    words = {Substrate.STEEL: _("steel"), Substrate.ALUMINIUM: _("aluminium")}
    return TaskTrainerSheetPage(
        task=task,
        cautions=cautions_called(task.cautions),
        facts=(
            Fact(_("Time"), _minutes(task.minutes)),
            Fact(_("Spots"), str(task.spots)),
            Fact(_("Readings at each spot"), str(task.readings_per_spot)),
            Fact(_("Limit"), _limit(task)),
            Fact(_("Panel"), ", ".join(words.get(one, one.value) for one in task.substrates)),
        ),
    )


def _headings(lesson: Lesson) -> tuple[str, ...]:
    return tuple(
        heading.text
        for heading in lesson.headings
        if heading.depth == 2 and heading.text not in SUMMED_UP
    )


def _summed_up(lesson: Lesson) -> str:
    """Return the sections every lesson ends with, one heading lower than in the lesson."""
    anchors = {heading.anchor for heading in lesson.headings if heading.text in SUMMED_UP}
    parts = re.split(r'(?=<h2 id=")', lesson.body_html)
    kept = [part for part in parts if _anchor(part) in anchors]
    # On the sheet these stand under the lesson's title; ids would stand twice.
    html = re.sub(r'<h2 id="[^"]*">(.*?)</h2>', r"<h4>\1</h4>", without_meanings("".join(kept)))
    here = url_for("study.lesson", module_id=lesson.module_id, lesson_id=lesson.id)
    return html.replace('class="heading" href="#', f'class="heading" href="{here}#')


def _anchor(part: str) -> str:
    found = re.match(r'<h2 id="([^"]*)"', part)
    return found[1] if found else ""


def _numbers(module: Module, course: Course) -> Iterator[FactLine]:
    """Yield the facts the lessons lean on, each once, with its source."""
    known = {fact.id: fact for fact in course.facts}
    used = dict.fromkeys(name for lesson in module.lessons for name in lesson.facts)
    for name in used:
        if name in known:
            fact = known[name]
            yield FactLine(fact.says, fact_text(fact), fact.source)


def _limit(task: PracticalTask) -> str:
    if task.limit_um is None:
        return _("none: no removal")
    return _("%(limit)g µm at any spot", limit=task.limit_um)


def _minutes(minutes: int) -> str:
    return ngettext("about one minute", "about %(num)s minutes", minutes)


def trainer_sheet_url(module: Module) -> str:
    """Return where a module's trainer's sheet is, or '' where there is none."""
    if not module.trainer_sheet_html:
        return ""
    return url_for("study.module_trainer_sheet", module_id=module.id)
