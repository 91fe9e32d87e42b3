"""An examination as its candidate begins it."""

from __future__ import annotations

from uuid import UUID

from flask import abort, redirect, url_for
from flask.typing import ResponseReturnValue

from academy.domain.people import Permission
from academy.services import examination
from academy.web.context import clock, unit_of_work
from academy.web.identity import requires, signed_in
from academy.web.pages import render
from academy.web.quizzes.blueprint import bp
from academy.web.quizzes.one_language import in_its_language
from academy.web.quizzes.own import own_sitting
from academy.web.quizzes.pages import BeginPage
from academy.web.quizzes.words import conditions_facts


@bp.get("/sittings/<uuid:sitting_id>/begin")
@requires(Permission.SIT_QUIZ)
@in_its_language
def begin(sitting_id: UUID) -> ResponseReturnValue:
    """Show the rules of an examination before its clock runs."""
    own = own_sitting(signed_in(), sitting_id)
    if own.row.examination is None:
        abort(404)
    if not own.waits_to_begin:
        return redirect(url_for("quizzes.sitting", sitting_id=sitting_id), code=303)
    return render(
        BeginPage(
            title_text=own.title,
            facts=conditions_facts(own.row.examination, own.total),
            on_paper=own.row.examination["on_paper"],
            larger_print=own.larger_print,
        )
    )


@bp.post("/sittings/<uuid:sitting_id>/begin")
@requires(Permission.SIT_QUIZ)
def start_clock(sitting_id: UUID) -> ResponseReturnValue:
    """Start the clock; a second time does not start it again."""
    own = own_sitting(signed_in(), sitting_id)
    with unit_of_work() as session:
        examination.begin_examination(
            session, actor=signed_in(), sitting_id=own.row.id, now=clock()
        )
    return redirect(url_for("quizzes.sitting", sitting_id=sitting_id), code=303)
