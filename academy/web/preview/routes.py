"""The preview's own addresses: everything, a task, and the version of the source."""

from __future__ import annotations

from datetime import UTC, datetime
from uuid import UUID

from flask import Response, url_for
from flask.typing import ResponseReturnValue

from academy.domain.curriculum.course import Module
from academy.domain.curriculum.tasks import PracticalTask
from academy.domain.practical.record import Practical
from academy.domain.practical.stages import PracticalKind
from academy.services.actor import Actor
from academy.store.queries.practicals import StoredPractical
from academy.web.context import course
from academy.web.identity import public
from academy.web.language import gettext as _
from academy.web.pages import render
from academy.web.parts import Listed
from academy.web.practicals.panel import practical_page
from academy.web.preview import questions
from academy.web.preview.blueprint import bp
from academy.web.preview.frame import watched
from academy.web.preview.pages import ContentsPage, ModuleContents
from academy.web.preview.studying import NOBODY
from academy.web.study.parts_of_course import task_called
from academy.web.study.sheets import trainer_sheet_url

# Importing the questions puts their addresses into the blueprint.
__all__ = ["ENDPOINTS", "bp", "questions"]
ENDPOINTS = frozenset(
    f"preview.{name}" for name in ("contents", "version", "question", "answer", "result", "task")
)
TRAINEE, SUPERVISOR = UUID(int=1), UUID(int=2)


@bp.get("/preview")
@public
def contents() -> ResponseReturnValue:
    """Show everything there is to look at."""
    return render(
        ContentsPage(
            modules=tuple(map(_module_contents, course().modules)),
            tasks=tuple(
                Listed(task.title, url_for("preview.task", task_id=task.id))
                for task in course().tasks
            ),
            task_sheets=tuple(
                Listed(task.title, url_for("study.task_trainer_sheet", task_id=task.id))
                for task in course().tasks
            ),
        )
    )


@bp.get("/preview/version")
@public
def version() -> ResponseReturnValue:
    """Return the digest of the newest source; a page that was made from another is stale."""
    return Response(watched().digest, mimetype="text/plain")


@bp.get("/preview/tasks/<task_id>")
@public
def task(task_id: str) -> ResponseReturnValue:
    """Show a practical of this task as its trainee sees it, just opened."""
    found = task_called(task_id)
    names = {TRAINEE: _("the trainee"), SUPERVISOR: _("the supervisor")}
    trainee = Actor(TRAINEE, NOBODY, names[TRAINEE], frozenset())
    return render(practical_page(_just_opened(found), trainee, names, course()))


def _just_opened(task: PracticalTask) -> StoredPractical:
    opened_at = datetime(2000, 1, 1, tzinfo=UTC)  # shown nowhere
    practical = Practical(NOBODY, TRAINEE, SUPERVISOR, task, PracticalKind.ASSESSED, opened_at)
    return StoredPractical(practical, NOBODY, _("a section"), None, None, None, (), None)


def _module_contents(module: Module) -> ModuleContents:
    pages = [
        Listed(_("The module"), url_for("study.module", module_id=module.id)),
        Listed(_("The module on a sheet"), url_for("study.summary", module_id=module.id)),
    ]
    if module.trainer_sheet_html:
        pages.append(Listed(_("Trainer's sheet"), trainer_sheet_url(module)))
    return ModuleContents(
        title=module.title,
        anchor=f"module-{module.id}",
        pages=tuple(pages),
        lessons=tuple(
            Listed(
                lesson.title,
                url_for("study.lesson", module_id=module.id, lesson_id=lesson.id),
            )
            for lesson in module.lessons
        ),
        questions=tuple(
            Listed(
                one.id,
                url_for("preview.question", question_id=one.id),
                f"{one.interaction.value}, {one.level.value}",
            )
            for one in module.questions
        ),
    )
