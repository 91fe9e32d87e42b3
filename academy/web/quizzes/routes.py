"""Sitting a quiz, question by question, on any device."""

from __future__ import annotations

from dataclasses import dataclass
from uuid import UUID, uuid4

from flask import Blueprint, abort, redirect, request, url_for
from flask.typing import ResponseReturnValue

from academy.domain.assessment.forms import FormQuestion
from academy.domain.assessment.frozen import (
    DrawnForm,
    drawn_form_from_frozen,
    result_from_frozen,
)
from academy.domain.assessment.progress import Purpose
from academy.domain.assessment.results import SittingResult
from academy.domain.assessment.scoring import answered
from academy.domain.people import Permission
from academy.services import sitting as service
from academy.services.actor import Actor
from academy.store.queries import study as queries
from academy.web.context import clock, course, db, unit_of_work
from academy.web.forms import kept_id
from academy.web.identity import requires, signed_in
from academy.web.language import gettext as _
from academy.web.pages import render
from academy.web.parts import Fact, Link
from academy.web.quizzes.pages import HandInPage, QuestionPage, ResultPage
from academy.web.quizzes.review import reviewed, reviewed_objectives
from academy.web.quizzes.shown import fault_of, response_of, shown, typed_again

bp = Blueprint("quizzes", __name__)


@dataclass(frozen=True, slots=True)
class OwnSitting:
    """One's own sitting with its form and the latest responses."""

    row: queries.SittingRow
    drawn: DrawnForm
    responses: dict[str, dict[str, object]]

    @property
    def unanswered(self) -> tuple[int, ...]:
        """Return the positions of the questions without a whole answer."""
        return tuple(
            position
            for position, item in enumerate(self.drawn.form.questions, 1)
            if not answered(item.question, self.responses.get(item.question.id))
        )


@bp.post("/course/<module_id>/sittings")
@requires(Permission.SIT_QUIZ)
def open_sitting(module_id: str) -> ResponseReturnValue:
    """Open a sitting, or go on with the one that is open."""
    module = course().module(module_id)
    if module is None:
        abort(404)
    with unit_of_work() as session:
        sitting_id = service.open_sitting(
            session,
            actor=signed_in(),
            sitting_id=kept_id(request.form, "sitting_id"),
            module=module,
            now=clock(),
        )
    return redirect(url_for("quizzes.sitting", sitting_id=sitting_id), code=303)


@bp.get("/sittings/<uuid:sitting_id>")
@requires(Permission.SIT_QUIZ)
def sitting(sitting_id: UUID) -> ResponseReturnValue:
    """Go to the first question that has no answer yet, to handing in, or to the result."""
    own = _own(signed_in(), sitting_id)
    if own.row.submitted_at is not None:
        return redirect(url_for("quizzes.result", sitting_id=sitting_id), code=303)
    if own.unanswered:
        return redirect(_question_url(sitting_id, own.unanswered[0]), code=303)
    return redirect(url_for("quizzes.hand_in", sitting_id=sitting_id), code=303)


@bp.get("/sittings/<uuid:sitting_id>/questions/<int:position>")
@requires(Permission.SIT_QUIZ)
def question(sitting_id: UUID, position: int) -> ResponseReturnValue:
    """Show one question."""
    return _question(_own(signed_in(), sitting_id), position)


@bp.post("/sittings/<uuid:sitting_id>/questions/<int:position>")
@requires(Permission.SIT_QUIZ)
def answer(sitting_id: UUID, position: int) -> ResponseReturnValue:
    """Save the answer at once, then show the next question."""
    own = _own(signed_in(), sitting_id)
    item = _item(own, position)
    before = own.responses.get(item.question.id)
    response = response_of(item.question, request.form, before)
    fault = fault_of(item.question, response)
    if fault or response is None:
        return _question(own, position, fault)
    with unit_of_work() as session:
        service.save_answer(
            session,
            actor=signed_in(),
            sitting_id=sitting_id,
            answer_id=kept_id(request.form, "answer_id"),
            question_id=item.question.id,
            response=response,
            now=clock(),
        )
    if item.question.decisions:
        # the situation unfolds, and its end is shown, before the next question
        return redirect(_question_url(sitting_id, position), code=303)
    return redirect(_after(own, position), code=303)


@bp.get("/sittings/<uuid:sitting_id>/hand-in")
@requires(Permission.SIT_QUIZ)
def hand_in(sitting_id: UUID) -> ResponseReturnValue:
    """Show what is answered before handing in."""
    own = _own(signed_in(), sitting_id)
    total = len(own.drawn.form.questions)
    return render(
        HandInPage(
            sitting_id=sitting_id,
            module_title=_module_title(own),
            answered=total - len(own.unanswered),
            total=total,
            unanswered=tuple(
                Link(_("Question %(number)d", number=n), _question_url(sitting_id, n))
                for n in own.unanswered
            ),
        )
    )


@bp.post("/sittings/<uuid:sitting_id>/hand-in")
@requires(Permission.SIT_QUIZ)
def submit(sitting_id: UUID) -> ResponseReturnValue:
    """Hand in and show the result; twice gives the same result."""
    good = course()
    with unit_of_work() as session:
        service.submit_sitting(
            session, actor=signed_in(), sitting_id=sitting_id, course=good, now=clock()
        )
    return redirect(url_for("quizzes.result", sitting_id=sitting_id), code=303)


@bp.get("/sittings/<uuid:sitting_id>/result")
@requires(Permission.SIT_QUIZ)
def result(sitting_id: UUID) -> ResponseReturnValue:
    """Show the result with every reason."""
    own = _own(signed_in(), sitting_id)
    if own.row.result is None:
        return redirect(url_for("quizzes.sitting", sitting_id=sitting_id), code=303)
    outcome = result_from_frozen(own.row.result)
    marks = {question.question_id: question.marks for question in outcome.questions}
    items = own.drawn.form.questions
    return render(
        ResultPage(
            module_title=_module_title(own),
            module_url=url_for("study.module", module_id=own.row.module_id),
            passed=outcome.passed,
            verdict=_verdict(outcome),
            facts=_result_facts(outcome),
            objectives=reviewed_objectives(outcome, items, course()),
            questions=tuple(
                reviewed(
                    position,
                    item,
                    own.responses.get(item.question.id),
                    marks[item.question.id],
                    course(),
                )
                for position, item in enumerate(items, 1)
            ),
        )
    )


def _own(actor: Actor, sitting_id: UUID) -> OwnSitting:
    row = queries.sitting(db(), actor.shop_id, actor.person_id, sitting_id)
    if row is None:
        abort(404)
    return OwnSitting(
        row,
        drawn_form_from_frozen(row.form),
        queries.responses(db(), actor.shop_id, sitting_id),
    )


def _item(own: OwnSitting, position: int) -> FormQuestion:
    items = own.drawn.form.questions
    if not 1 <= position <= len(items):
        abort(404)
    return items[position - 1]


def _question(own: OwnSitting, position: int, fault: str = "") -> ResponseReturnValue:
    if own.row.submitted_at is not None:
        return redirect(url_for("quizzes.result", sitting_id=own.row.id), code=303)
    item = _item(own, position)
    response = own.responses.get(item.question.id)
    page = QuestionPage(
        sitting_id=own.row.id,
        module_title=_module_title(own),
        position=position,
        total=len(own.drawn.form.questions),
        question=shown(item, response),
        typed=typed_again(item.question, response),
        answer_id=uuid4(),
        again=own.row.purpose == Purpose.MUST_KNOW_AGAIN,
        fault=fault,
    )
    return render(page, 422 if fault else 200)


def _after(own: OwnSitting, position: int) -> str:
    if position < len(own.drawn.form.questions):
        return _question_url(own.row.id, position + 1)
    return url_for("quizzes.hand_in", sitting_id=own.row.id)


def _question_url(sitting_id: UUID, position: int) -> str:
    return url_for("quizzes.question", sitting_id=sitting_id, position=position)


def _module_title(own: OwnSitting) -> str:
    module = course().module(own.row.module_id)
    return module.title if module else own.row.module_id


def _verdict(outcome: SittingResult) -> str:
    if outcome.passed:
        return _("Passed: the pass mark is reached and everything you must know is met.")
    if outcome.reached_cut:
        return _(
            "The pass mark is reached, but something you must know is not met yet."
            " Read it again; it is asked again in other words."
        )
    return _("Not passed yet: the pass mark of this form is not reached. Read what was missed.")


def _result_facts(outcome: SittingResult) -> tuple[Fact, ...]:
    return (
        Fact(_("Your score"), _points(outcome.score_points, outcome.full_points)),
        Fact(_("Pass mark of this form"), _points(outcome.cut_points, outcome.full_points)),
    )


def _points(points: int, full: int) -> str:
    """Return points of one percent of a question as questions, so that no rounding hides a miss."""
    return _("%(score).2f of %(full)d questions", score=points / 100, full=full // 100)
