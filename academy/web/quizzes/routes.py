"""Sitting a quiz, question by question, on any device."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any
from uuid import UUID, uuid4

from flask import abort, redirect, request, url_for
from flask.typing import ResponseReturnValue

from academy.domain.assessment.progress import Purpose
from academy.domain.assessment.retake import RestudyFirst
from academy.domain.curriculum.course import Module
from academy.domain.people import Permission
from academy.services import quiz
from academy.services import sitting as service
from academy.store.queries.study import newest_answer_number
from academy.web.context import clock, course, db, unit_of_work
from academy.web.forms import as_typed, error_text, kept_id
from academy.web.identity import requires, signed_in
from academy.web.language import gettext as _
from academy.web.pages import render
from academy.web.parts import Link
from academy.web.quizzes import (
    candidate_routes,
    dispute_routes,
    examination_opening,
    examination_routes,
    experience_routes,
    paper_routes,
    practice_routes,
    quality_routes,
    rating_round_routes,
    rating_routes,
    refresher_routes,
)
from academy.web.quizzes.blueprint import bp
from academy.web.quizzes.one_language import in_its_language
from academy.web.quizzes.own import OwnSitting, own_sitting, question_url
from academy.web.quizzes.pages import HandInPage, QuestionPage, RestudyPage
from academy.web.quizzes.practice_routes import practice_question
from academy.web.quizzes.results import result_page
from academy.web.quizzes.rules import marks_rule, retake_rule
from academy.web.quizzes.shown import fault_of, response_of, shown, typed_again

# Importing the others puts their addresses into the blueprint.
__all__ = [
    "bp",
    "candidate_routes",
    "dispute_routes",
    "examination_opening",
    "examination_routes",
    "experience_routes",
    "paper_routes",
    "practice_routes",
    "quality_routes",
    "rating_round_routes",
    "rating_routes",
    "refresher_routes",
]


@bp.post("/course/<module_id>/sittings")
@requires(Permission.SIT_QUIZ)
def open_sitting(module_id: str) -> ResponseReturnValue:
    """Open a sitting, or go on with the one that is open."""
    module = course().module(module_id)
    if module is None:
        abort(404)
    try:
        with unit_of_work() as session:
            sitting_id = quiz.open_quiz(
                session,
                actor=signed_in(),
                sitting_id=kept_id(request.form, "sitting_id"),
                module=module,
                now=clock(),
                retake=retake_rule(course(), module_id),
            )
    except RestudyFirst:
        return render(_restudy_page(module), 422)
    return redirect(url_for("quizzes.sitting", sitting_id=sitting_id), code=303)


@bp.get("/sittings/<uuid:sitting_id>")
@requires(Permission.SIT_QUIZ)
def sitting(sitting_id: UUID) -> ResponseReturnValue:
    """Go to the first question that has no answer yet, to handing in, or to the result."""
    own = own_sitting(signed_in(), sitting_id)
    if own.row.submitted_at is not None:
        return redirect(url_for("quizzes.result", sitting_id=sitting_id), code=303)
    if own.waits_to_begin:
        return redirect(url_for("quizzes.begin", sitting_id=sitting_id), code=303)
    if own.unanswered:
        return redirect(question_url(sitting_id, own.unanswered[0]), code=303)
    return redirect(url_for("quizzes.hand_in", sitting_id=sitting_id), code=303)


@bp.get("/sittings/<uuid:sitting_id>/questions/<int:position>")
@requires(Permission.SIT_QUIZ)
@in_its_language
def question(sitting_id: UUID, position: int) -> ResponseReturnValue:
    """Show one question."""
    return _question(own_sitting(signed_in(), sitting_id), position)


@bp.post("/sittings/<uuid:sitting_id>/questions/<int:position>")
@requires(Permission.SIT_QUIZ)
@in_its_language
def answer(sitting_id: UUID, position: int) -> ResponseReturnValue:
    """Save the answer at once, then show the next question."""
    own = own_sitting(signed_in(), sitting_id)
    item = own.item(position)
    response = response_of(item.question, request.form, own.responses.get(item.question.id))
    fault = fault_of(item.question, response)
    if fault or response is None:
        return _question(own, position, fault, as_typed(request.form))
    try:
        with unit_of_work() as session:
            service.save_answer(
                session,
                actor=signed_in(),
                sitting_id=sitting_id,
                answer_id=kept_id(request.form, "answer_id"),
                question_id=item.question.id,
                response=response,
                now=clock(),
                seen_number=_seen_number(),
            )
    except (service.AnsweredElsewhere, service.TimeIsUp) as refusal:
        return _question(own_sitting(signed_in(), sitting_id), position, error_text(refusal))
    if item.question.decisions or own.purpose is Purpose.PRACTICE:
        # a situation unfolds, and practice says at once what was right, before the next question
        return redirect(question_url(sitting_id, position), code=303)
    return redirect(_after(own, position), code=303)


@bp.get("/sittings/<uuid:sitting_id>/hand-in")
@requires(Permission.SIT_QUIZ)
@in_its_language
def hand_in(sitting_id: UUID) -> ResponseReturnValue:
    """Show what is answered before handing in."""
    own = own_sitting(signed_in(), sitting_id)
    if own.row.submitted_at is not None or own.waits_to_begin:
        return redirect(url_for("quizzes.sitting", sitting_id=sitting_id), code=303)
    time = own.time_left(clock())
    return render(
        HandInPage(
            sitting_id=sitting_id,
            title_text=own.title,
            counts=own.purpose is not Purpose.PRACTICE,
            answered=own.total - len(own.unanswered),
            total=own.total,
            unanswered=tuple(
                Link(_("Question %(number)d", number=n), question_url(sitting_id, n))
                for n in own.unanswered
            ),
            time=time,
            larger_print=own.larger_print,
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
@in_its_language
def result(sitting_id: UUID) -> ResponseReturnValue:
    """Show the result with every reason."""
    own = own_sitting(signed_in(), sitting_id)
    if own.row.result is None:
        return redirect(url_for("quizzes.sitting", sitting_id=sitting_id), code=303)
    return render(result_page(own, signed_in()))


def _question(
    own: OwnSitting, position: int, fault: str = "", typed: Mapping[str, Any] | None = None
) -> ResponseReturnValue:
    if own.row.submitted_at is not None or own.waits_to_begin:
        return redirect(url_for("quizzes.sitting", sitting_id=own.row.id), code=303)
    item = own.item(position)
    response = own.responses.get(item.question.id)
    if own.purpose is Purpose.PRACTICE:
        feedback = practice_question(own, position)
        if feedback is not None:
            return render(feedback)
    page = QuestionPage(
        sitting_id=own.row.id,
        title_text=own.title,
        position=position,
        total=own.total,
        question=shown(item, response),
        typed=dict(typed or typed_again(item.question, response)),
        answer_id=uuid4(),
        seen_number=newest_answer_number(db(), signed_in().shop_id, own.row.id, item.question.id),
        rule=marks_rule(item.question),
        again=own.purpose is Purpose.MUST_KNOW_AGAIN,
        counts=own.purpose is not Purpose.PRACTICE,
        fault=fault,
        time=own.time_left(clock()),
        larger_print=own.larger_print,
    )
    return render(page, 422 if fault else 200)


def _seen_number() -> int | None:
    """Return the number of the answer the page showed; a page from before has none."""
    sent = request.form.get("seen_number", "")
    return int(sent) if sent.isascii() and sent.isdigit() and len(sent) < 9 else None


def _after(own: OwnSitting, position: int) -> str:
    if position < own.total:
        return question_url(own.row.id, position + 1)
    return url_for("quizzes.hand_in", sitting_id=own.row.id)


def _restudy_page(module: Module) -> RestudyPage:
    lessons = quiz.lessons_to_restudy(db(), signed_in(), module)
    return RestudyPage(
        module_title=module.title,
        module_url=url_for("study.module", module_id=module.id),
        lessons=tuple(
            Link(
                lesson.title,
                url_for("study.lesson", module_id=module.id, lesson_id=lesson.id),
            )
            for lesson in lessons
        ),
    )
