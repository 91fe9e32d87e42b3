"""Practice, with feedback at once."""

from __future__ import annotations

from flask import abort, redirect, request, url_for
from flask.typing import ResponseReturnValue

from academy.domain.assessment.scoring import answered, marks
from academy.domain.people import Permission
from academy.services import practice
from academy.services.open_forms import refuse_result
from academy.web.context import clock, course, db, unit_of_work
from academy.web.forms import kept_id
from academy.web.identity import requires, signed_in
from academy.web.quizzes.blueprint import bp
from academy.web.quizzes.own import OwnSitting
from academy.web.quizzes.pages import FeedbackPage
from academy.web.quizzes.review import reviewed


@bp.post("/course/<module_id>/practice")
@requires(Permission.SIT_QUIZ)
def open_practice(module_id: str) -> ResponseReturnValue:
    """Open five questions of a module to practise on, or go on with those that are open."""
    module = course().module(module_id)
    if module is None:
        abort(404)
    with unit_of_work() as session:
        sitting_id = practice.open_practice(
            session,
            actor=signed_in(),
            sitting_id=kept_id(request.form, "practice_id"),
            module=module,
            now=clock(),
        )
    return redirect(url_for("quizzes.sitting", sitting_id=sitting_id), code=303)


def practice_question(own: OwnSitting, position: int) -> FeedbackPage | None:
    """Return an answered question of a practice with every reason, None while it is not answered.

    Nothing is shown while a sitting that counts could still ask it.
    """
    item = own.item(position)
    refuse_result(db(), signed_in(), own.row.module_id, {item.question.id})
    response = own.responses.get(item.question.id)
    if not answered(item.question, response):
        return None
    return FeedbackPage(
        sitting_id=own.row.id,
        title_text=own.title,
        back=own.back,
        position=position,
        total=own.total,
        question=reviewed(position, item, response, marks(item.question, response), course()),
    )
