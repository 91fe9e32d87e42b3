"""The preview's own addresses: everything, a question, a task, and the version of the source."""

from __future__ import annotations

import json
from datetime import UTC, datetime
from uuid import UUID

from flask import Blueprint, Response, abort, redirect, request, url_for
from flask.typing import ResponseReturnValue

from academy.domain.assessment.forms import FormQuestion
from academy.domain.assessment.scoring import marks, scenario_choices
from academy.domain.curriculum.kinds import Interaction
from academy.domain.curriculum.model import Module, PracticalTask, Question
from academy.domain.curriculum.scenario import path_taken
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
from academy.web.preview.frame import watched
from academy.web.preview.pages import ContentsPage, ModuleContents
from academy.web.preview.studying import NOBODY
from academy.web.quizzes.pages import QuestionPage, ResultPage
from academy.web.quizzes.review import reviewed
from academy.web.quizzes.shown import fault_of, response_of, shown, typed_again
from academy.web.study.parts_of_course import task_called
from academy.web.study.sheets import trainer_sheet_url

bp = Blueprint("preview", __name__)
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


@bp.get("/preview/questions/<question_id>")
@public
def question(question_id: str) -> ResponseReturnValue:
    """Show a question as in a sitting."""
    return _question(_question_called(question_id), _given())


@bp.post("/preview/questions/<question_id>")
@public
def answer(question_id: str) -> ResponseReturnValue:
    """Take an answer: to the result, or on in a situation that unfolds."""
    found = _question_called(question_id)
    response = response_of(found, request.form, _given())
    fault = fault_of(found, response)
    if fault or response is None:
        return _question(found, response, fault)
    unfolding = (
        found.interaction is Interaction.SCENARIO
        and not path_taken(found, scenario_choices(response)).ended
    )
    endpoint = "preview.question" if unfolding else "preview.result"
    return redirect(
        url_for(endpoint, question_id=question_id, given=json.dumps(response)), code=303
    )


@bp.get("/preview/questions/<question_id>/result")
@public
def result(question_id: str) -> ResponseReturnValue:
    """Show a question's reasons as after a sitting."""
    found, given = _question_called(question_id), _given()
    module = course().module(found.module_id)
    points = marks(found, given)
    return render(
        ResultPage(
            module_title=module.title if module else found.module_id,
            module_url=url_for("preview.question", question_id=question_id),
            passed=points == 100,
            verdict=_("Preview of one question; nothing is recorded."),
            facts=(),
            objectives=(),
            questions=(reviewed(1, _as_written(found), given, points, course()),),
        )
    )


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


def _question_called(question_id: str) -> Question:
    found = course().question(question_id)
    if found is None:
        abort(404)
    return found


def _given() -> dict[str, object] | None:
    """Return the answers so far, which travel in the address because nothing is kept."""
    try:
        given = json.loads(request.args.get("given", "null"))
    except ValueError:
        return None
    return given if isinstance(given, dict) else None


def _as_written(question: Question) -> FormQuestion:
    """Return a question with its options in the order they are written in."""
    return FormQuestion(
        question,
        tuple(option.number for option in question.options),
        tuple(partner.number for partner in question.partners),
    )


def _question(found: Question, response: object, fault: str = "") -> ResponseReturnValue:
    module = course().module(found.module_id)
    page = QuestionPage(
        sitting_id=NOBODY,
        module_title=module.title if module else found.module_id,
        position=1,
        total=1,
        question=shown(_as_written(found), response),
        typed=typed_again(found, response),
        answer_id=NOBODY,
        again=False,
        fault=fault,
    )
    return render(page, 422 if fault else 200)
