"""Examinations as supervisors watch, close and decide them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from uuid import UUID

from flask import abort, flash, redirect, request, url_for
from flask.typing import ResponseReturnValue
from sqlalchemy import select

from academy.domain.assessment.frozen import drawn_form_from_frozen, result_from_frozen
from academy.domain.people import Permission
from academy.services import examination as examination_service
from academy.services.actor import Actor
from academy.services.open_forms import refuse_while_examined
from academy.services.spoken import record_spoken_answer, spoken_questions
from academy.store.queries.examinations import (
    ExaminationRow,
    SpokenRow,
    examination_row,
    examinations,
    paper_entries,
    spoken_answers,
)
from academy.store.tables.study import Sitting
from academy.web.context import clock, course, db, unit_of_work
from academy.web.forms import FormRefused
from academy.web.identity import requires, signed_in
from academy.web.language import gettext as _
from academy.web.pages import render
from academy.web.parts import Choosable, Fact, Filled, Link, Listed
from academy.web.quizzes.blueprint import bp
from academy.web.quizzes.examination_pages import (
    ExaminationPage,
    ExaminationsPage,
    SpokenAsked,
    SpokenToAsk,
)
from academy.web.quizzes.forms import SpokenForm
from academy.web.quizzes.words import (
    conditions_facts,
    may_withdraw,
    overdue,
    points_words,
    state_sign,
    state_words,
)


@dataclass(frozen=True, slots=True)
class Examined:
    """Somebody else's examination, as a supervisor may see it."""

    row: ExaminationRow
    sitting: Sitting

    @property
    def title(self) -> str:
        """Return the scheme it belongs to."""
        return _scheme_title(self.row.scheme_id)


def examined(actor: Actor, examination_id: UUID) -> Examined:
    """Return an examination of the shop; 404 for none, for another shop's and for one's own."""
    row = examination_row(db(), actor.shop_id, examination_id)
    if row is None or row.person_id == actor.person_id:
        abort(404)
    stored = db().scalars(
        select(Sitting).where(Sitting.shop_id == actor.shop_id, Sitting.id == examination_id)
    )
    return Examined(row, stored.one())


@bp.get("/examinations")
@requires(Permission.ENTER_PAPER)
def examinations_of_shop() -> ResponseReturnValue:
    """List the shop's examinations, newest first."""
    actor, now = signed_in(), clock()
    return render(
        ExaminationsPage(
            may_open=actor.may(Permission.OPEN_EXAMINATION),
            examinations=tuple(
                Listed(
                    f"{row.person_name}: {_scheme_title(row.scheme_id)}",
                    _address(actor, row),
                    state_words(row, now),
                    state_sign(row, now),
                )
                for row in examinations(db(), actor.shop_id)
            ),
        )
    )


@bp.get("/examinations/<uuid:examination_id>")
@requires(Permission.ENTER_PAPER)
def examination(examination_id: UUID) -> ResponseReturnValue:
    """Show one examination and what is to be done about it."""
    return render(_page(examined(signed_in(), examination_id), Filled()))


@bp.post("/examinations/<uuid:examination_id>/close")
@requires(Permission.OPEN_EXAMINATION)
def close_examination(examination_id: UUID) -> ResponseReturnValue:
    """Close an examination that was never handed in, after its time."""
    good = course()
    with unit_of_work() as session:
        examination_service.close_overdue(
            session, actor=signed_in(), sitting_id=examination_id, course=good, now=clock()
        )
    flash(_("Closed with what was answered in time."))
    return redirect(url_for("quizzes.examination", examination_id=examination_id), code=303)


@bp.post("/examinations/<uuid:examination_id>/withdraw")
@requires(Permission.OPEN_EXAMINATION)
def withdraw_examination(examination_id: UUID) -> ResponseReturnValue:
    """Withdraw an examination that nobody has begun."""
    with unit_of_work() as session:
        examination_service.withdraw_examination(
            session, actor=signed_in(), sitting_id=examination_id, now=clock()
        )
    flash(_("Withdrawn; another one can be opened."))
    return redirect(url_for("quizzes.examinations_of_shop"), code=303)


@bp.post("/examinations/<uuid:examination_id>/spoken")
@requires(Permission.OPEN_EXAMINATION)
def record_spoken(examination_id: UUID) -> ResponseReturnValue:
    """Record the answer to one prepared question; after the third the result is decided."""
    good = course()
    try:
        form = SpokenForm.of(request.form)
        with unit_of_work() as session:
            record_spoken_answer(
                session,
                actor=signed_in(),
                sitting_id=examination_id,
                spoken_id=form.spoken_id,
                answer=form.note,
                satisfactory=form.satisfactory == "yes",
                course=good,
                now=clock(),
            )
    except FormRefused as fault:
        return render(_page(examined(signed_in(), examination_id), fault.filled), 422)
    return redirect(url_for("quizzes.examination", examination_id=examination_id), code=303)


def _address(actor: Actor, row: ExaminationRow) -> str:
    if row.person_id == actor.person_id:
        return url_for("quizzes.sitting", sitting_id=row.id)
    return url_for("quizzes.examination", examination_id=row.id)


def _scheme_title(scheme_id: str) -> str:
    scheme = course().scheme(scheme_id)
    return scheme.title if scheme else scheme_id


def _page(found: Examined, form: Filled) -> ExaminationPage:
    row, now, actor = found.row, clock(), signed_in()
    examines = actor.may(Permission.OPEN_EXAMINATION)
    given = spoken_answers(db(), signed_in().shop_id, row.id)
    return ExaminationPage(
        examination_id=row.id,
        scheme_title=found.title,
        facts=(Fact(_("Candidate"), row.person_name), *_facts(found), *_score(found)),
        sign=state_sign(row, now),
        state=state_words(row, now),
        may_close=examines and overdue(row, now),
        may_withdraw=examines
        and may_withdraw(row, bool(paper_entries(db(), actor.shop_id, row.id))),
        paper=_paper_links(row, examines=examines),
        asked=tuple(_asked(spoken) for spoken in given) if examines else (),
        to_ask=_to_ask(found, given) if row.held and examines else (),
        answers=(
            Choosable("yes", _("Satisfactory")),
            Choosable("no", _("Not satisfactory")),
        ),
        form=form,
    )


def _facts(found: Examined) -> tuple[Fact, ...]:
    form = drawn_form_from_frozen(found.sitting.form).form
    opened = Fact(_("Opened by"), found.row.opened_by_name)
    return (*conditions_facts(found.row.conditions, len(form.questions)), opened)


def _score(found: Examined) -> tuple[Fact, ...]:
    """Return score and pass mark once it is closed; before that nothing is told."""
    if found.sitting.result is None:
        return ()
    outcome = result_from_frozen(found.sitting.result)
    full = outcome.full_points
    return (
        Fact(_("Score"), points_words(outcome.score_points, full)),
        Fact(_("Pass mark of this form"), points_words(outcome.cut_points, full)),
    )


def _paper_links(row: ExaminationRow, *, examines: bool) -> tuple[Link, ...]:
    if not row.conditions["on_paper"] or row.withdrawn_at is not None:
        return ()
    to_print = [
        Link(_("The paper, to print"), url_for("quizzes.paper", examination_id=row.id)),
        Link(_("The key, to print"), url_for("quizzes.key", examination_id=row.id)),
    ]
    links = to_print if examines else []
    if row.submitted_at is None:
        entry = url_for("quizzes.enter_paper", examination_id=row.id)
        links.append(Link(_("Enter the paper"), entry))
    return tuple(links)


def _asked(row: SpokenRow) -> SpokenAsked:
    return SpokenAsked(
        row.question["text_html"], row.question["model_answer_html"], row.answer, row.satisfactory
    )


def _to_ask(found: Examined, given: Sequence[SpokenRow]) -> tuple[SpokenToAsk, ...]:
    # model answers are not read by somebody who is being examined
    refuse_while_examined(db(), signed_in())
    known = {row.spoken_id for row in given}
    prepared = spoken_questions(found.sitting, course())
    return tuple(
        SpokenToAsk(question.id, question.text_html, question.model_answer_html)
        for question in prepared
        if question.id not in known
    )
