"""A question in the preview: asked as in a sitting, then explained as after one."""

from __future__ import annotations

import json

from flask import abort, redirect, request, url_for
from flask.typing import ResponseReturnValue

from academy.domain.assessment.forms import FormQuestion
from academy.domain.assessment.scoring import marks, scenario_choices
from academy.domain.curriculum.kinds import Interaction
from academy.domain.curriculum.questions import Question
from academy.domain.curriculum.scenario import path_taken
from academy.web.context import course
from academy.web.identity import public
from academy.web.language import gettext as _
from academy.web.pages import render
from academy.web.parts import Link
from academy.web.preview.blueprint import bp
from academy.web.preview.studying import NOBODY
from academy.web.quizzes.pages import QuestionPage, ResultPage
from academy.web.quizzes.review import reviewed
from academy.web.quizzes.rules import marks_rule
from academy.web.quizzes.shown import fault_of, response_of, shown, typed_again


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
            title_text=module.title if module else found.module_id,
            back=Link(
                _("The question again"), url_for("preview.question", question_id=question_id)
            ),
            larger_print=False,
            sign="right" if points == 100 else "other",
            verdict=_("Preview of one question; nothing is recorded."),
            facts=(),
            objectives=(),
            questions=(reviewed(1, _as_written(found), given, points, course()),),
        )
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
        title_text=module.title if module else found.module_id,
        position=1,
        total=1,
        question=shown(_as_written(found), response),
        typed=typed_again(found, response),
        answer_id=NOBODY,
        seen_number=0,
        rule=marks_rule(found),
        again=False,
        counts=True,
        fault=fault,
        time=None,
        larger_print=False,
    )
    return render(page, 422 if fault else 200)
