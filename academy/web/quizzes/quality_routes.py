"""Question quality: which questions an owner mends first, and why."""

from __future__ import annotations

from collections.abc import Mapping
from uuid import uuid4

from flask import Response, abort, flash, redirect, request, url_for
from flask.typing import ResponseReturnValue

from academy.domain.assessment.mending_notes import Mending
from academy.domain.assessment.re_rating import RatedQuestion
from academy.domain.curriculum.course import Module
from academy.domain.curriculum.schemes import Scheme
from academy.domain.people import Permission
from academy.services import mending as service
from academy.services.judged_questions import JudgedQuestion, QuestionQuality
from academy.services.open_forms import refuse_while_it_counts
from academy.services.question_quality import question_quality
from academy.services.ratings import percents, ratings_in_force
from academy.store.queries.rating_rounds import NoteRow, rated_questions
from academy.web.context import clock, course, db, unit_of_work
from academy.web.formats import sentence_text
from academy.web.forms import FormRefused, kept_id
from academy.web.identity import requires, signed_in
from academy.web.language import gettext as _
from academy.web.language import ngettext
from academy.web.pages import render
from academy.web.parts import Filled, Link, Listed
from academy.web.quizzes.blueprint import bp
from academy.web.quizzes.forms import MendingForm
from academy.web.quizzes.quality_export import quality_csv
from academy.web.quizzes.quality_pages import QualityPage, ToMend
from academy.web.quizzes.quality_shown import (
    examination_quality_page,
    judged_question_page,
    mending_words,
    quiz_page,
)
from academy.web.quizzes.quality_words import STEM_LETTERS, plain, reason_texts
from academy.web.times import today

SHOWN_FIRST = 20


@bp.get("/questions/quality")
@requires(Permission.JUDGE_QUESTIONS)
def quality() -> ResponseReturnValue:
    """Show which questions to mend first, and why."""
    found, notes = _quality(_ratings()), service.notes_in_force(db(), signed_in().shop_id)
    hidden = _modules_being_sat()
    on_list = [one for one in found.questions if _to_mend(one, notes)]
    shown = [one for one in on_list if one.now.question.module_id not in hidden]
    first = shown if request.args.get("all") else shown[:SHOWN_FIRST]
    left = len(shown) - len(first)
    return render(
        QualityPage(
            says=_resting_on(found, len(on_list)),
            to_mend=tuple(_listed(one) for one in first),
            more=ngettext("Show one more", "Show %(num)s more", left) if left else "",
            decided=tuple(_decided(one, notes) for one in found.questions if _rests(one, notes)),
            quizzes=tuple(_quiz(module, found, notes) for module in course().modules),
            examinations=tuple(
                _examination(scheme, found) for scheme in course().schemes if scheme.examination
            ),
        )
    )


@bp.get("/questions/quality.csv")
@requires(Permission.JUDGE_QUESTIONS)
def quality_table() -> ResponseReturnValue:
    """Download the figures of every question as a table for a spreadsheet."""
    hidden = _modules_being_sat()
    ratings = _ratings()
    found = _quality(ratings)
    kept = [one for one in found.questions if one.now.question.module_id not in hidden]
    notes = service.notes_in_force(db(), signed_in().shop_id)
    answer = Response(quality_csv(kept, ratings, notes), mimetype="text/csv")
    day = today().isoformat()
    answer.headers["Content-Disposition"] = f'attachment; filename="question-quality-{day}.csv"'
    return answer


@bp.get("/questions/quality/quizzes/<module_id>")
@requires(Permission.JUDGE_QUESTIONS)
def quiz_quality(module_id: str) -> ResponseReturnValue:
    """Show how far a quiz's pass mark can be trusted."""
    module = course().module(module_id)
    if module is None:
        abort(404)
    refuse_while_it_counts(db(), signed_in(), module.id)
    ratings = _ratings()
    return render(quiz_page(module, _quality(ratings), ratings))


@bp.get("/questions/quality/examinations/<scheme_id>")
@requires(Permission.JUDGE_QUESTIONS)
def examination_quality(scheme_id: str) -> ResponseReturnValue:
    """Show how far the pass mark of a scheme's examination can be trusted."""
    scheme = course().scheme(scheme_id)
    if scheme is None or scheme.examination is None:
        abort(404)
    return render(examination_quality_page(scheme, _quality(_ratings())))


@bp.get("/questions/quality/<question_id>")
@requires(Permission.JUDGE_QUESTIONS)
def judged_question(question_id: str) -> ResponseReturnValue:
    """Show one question with everything known about it."""
    rated = _rated()
    return _question(_found(question_id, rated), rated, Filled())


@bp.post("/questions/quality/<question_id>")
@requires(Permission.JUDGE_QUESTIONS)
def note_mending(question_id: str) -> ResponseReturnValue:
    """Take a question off the list to mend, or put it back."""
    rated = _rated()
    one = _found(question_id, rated)
    try:
        form = MendingForm.of(request.form)
    except FormRefused as fault:
        return _question(one, rated, fault.filled, 422)
    mending = Mending(form.mending)
    with unit_of_work() as session:
        service.note_mending(
            session, actor=signed_in(), note_id=kept_id(request.form, "note_id"),
            question=one.now.question, mending=mending, reason=form.reason, now=clock(),
        )  # fmt: skip
    flash(
        _("Off the list until its wording changes.")
        if mending.rests
        else _("It is looked at again.")
    )
    return redirect(url_for("quizzes.quality"), code=303)


def _ratings() -> dict[str, int]:
    return ratings_in_force(db(), signed_in().shop_id)


def _rated() -> Mapping[str, RatedQuestion]:
    return rated_questions(db(), signed_in().shop_id)


def _quality(ratings: Mapping[str, int]) -> QuestionQuality:
    return question_quality(db(), actor=signed_in(), course=course(), ratings=ratings)


def _found(question_id: str, rated: Mapping[str, RatedQuestion]) -> JudgedQuestion:
    one = _quality(percents(rated)).question(question_id)
    if one is None:
        abort(404)
    # the page shows the key, which a sitting of one's own may still ask for
    refuse_while_it_counts(db(), signed_in(), one.now.question.module_id)
    return one


def _question(
    one: JudgedQuestion, rated: Mapping[str, RatedQuestion], form: Filled, status: int = 200
) -> ResponseReturnValue:
    note_id = kept_id(request.form, "note_id") if request.form else uuid4()
    again = rated.get(one.now.question.digest)
    return render(judged_question_page(one, form, note_id, again), status)


def _modules_being_sat() -> frozenset[str]:
    """Return the modules on a form the reader has open: their questions are not told about here."""
    return refuse_while_it_counts(db(), signed_in()).modules


def _note(one: JudgedQuestion, notes: dict[str, NoteRow]) -> NoteRow | None:
    return notes.get(one.now.question.digest)


def _rests(one: JudgedQuestion, notes: dict[str, NoteRow]) -> bool:
    note = _note(one, notes)
    return note is not None and note.mending.rests


def _to_mend(one: JudgedQuestion, notes: dict[str, NoteRow]) -> bool:
    note = _note(one, notes)
    if note is not None:
        return not note.mending.rests
    return bool(one.now.findings)


def _resting_on(found: QuestionQuality, on_list: int) -> str:
    answers = len(found.answers.answers.sitting)
    if not answers:
        return _("Nobody has sat a quiz yet; there is nothing to judge the questions by.")
    return _(
        "%(answers)d answers from %(sittings)d first sittings; %(mend)d of %(questions)d questions"
        " stand on the list.",
        answers=answers,
        sittings=found.answers.answers.sittings,
        mend=on_list,
        questions=len(found.questions),
    )


def _listed(one: JudgedQuestion) -> ToMend:
    question = one.now.question
    module = course().module(question.module_id)
    return ToMend(
        link=Link(question.id, url_for("quizzes.judged_question", question_id=question.id)),
        where=module.title if module else question.module_id,
        stem=plain(question.stem_html, STEM_LETTERS),
        reasons=reason_texts(one.now) or (_("Put back on the list by hand."),),
        share=sentence_text(one.now.share.sentence),
    )


def _decided(one: JudgedQuestion, notes: dict[str, NoteRow]) -> Listed:
    note = notes[one.now.question.digest]
    return Listed(
        one.id,
        url_for("quizzes.judged_question", question_id=one.id),
        mending_words(note),
    )


def _quiz(module: Module, found: QuestionQuality, notes: dict[str, NoteRow]) -> Listed:
    sat = len(found.answers.quizzes.get(module.id, ()))
    mend = sum(
        one.now.question.module_id == module.id and _to_mend(one, notes) for one in found.questions
    )
    return Listed(
        module.title,
        url_for("quizzes.quiz_quality", module_id=module.id),
        _("%(sat)d first sittings, %(mend)d to mend", sat=sat, mend=mend),
    )


def _examination(scheme: Scheme, found: QuestionQuality) -> Listed:
    sat = len(found.answers.examinations.get(scheme.id, ()))
    return Listed(
        scheme.title,
        url_for("quizzes.examination_quality", scheme_id=scheme.id),
        ngettext("one first sitting", "%(num)s first sittings", sat),
    )
