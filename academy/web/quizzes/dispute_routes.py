"""Questioning an item of one's own result, and deciding what becomes of it."""

from __future__ import annotations

from uuid import UUID, uuid4

from flask import abort, flash, redirect, request, url_for
from flask.typing import ResponseReturnValue

from academy.domain.assessment.frozen import drawn_form_from_frozen
from academy.domain.assessment.scoring import marks
from academy.domain.people import Permission
from academy.services import dispute as service
from academy.services.open_forms import refuse_while_it_counts
from academy.store.queries.disputes import DisputeRow, disputes
from academy.store.queries.examinations import sitting_in_shop
from academy.store.queries.study import responses
from academy.web.context import clock, course, db, unit_of_work
from academy.web.forms import FormRefused, kept_id, refused
from academy.web.identity import requires, signed_in
from academy.web.language import gettext as _
from academy.web.language import ngettext
from academy.web.pages import render
from academy.web.parts import Choosable, Fact, Filled, Listed
from academy.web.quizzes.blueprint import bp
from academy.web.quizzes.dispute_pages import DisputeFormPage, DisputePage, DisputesPage
from academy.web.quizzes.forms import DecideForm, DisputeForm
from academy.web.quizzes.own import OwnSitting, own_sitting, title_of
from academy.web.quizzes.pages import ReviewedQuestion
from academy.web.quizzes.review import reviewed


@bp.get("/sittings/<uuid:sitting_id>/questions/<int:position>/dispute")
@requires(Permission.SIT_QUIZ)
def dispute_form(sitting_id: UUID, position: int) -> ResponseReturnValue:
    """Show the form to question an item."""
    own = _handed_in(sitting_id)
    return render(_form_page(own, position, Filled()))


@bp.post("/sittings/<uuid:sitting_id>/questions/<int:position>/dispute")
@requires(Permission.SIT_QUIZ)
def raise_dispute(sitting_id: UUID, position: int) -> ResponseReturnValue:
    """Question one item of one's own result."""
    own = _handed_in(sitting_id)
    item = own.item(position)
    try:
        form = DisputeForm.of(request.form)
    except FormRefused as fault:
        return render(_form_page(own, position, fault.filled), 422)
    with unit_of_work() as session:
        service.question_a_question(
            session,
            actor=signed_in(),
            dispute_id=kept_id(request.form, "dispute_id"),
            sitting_id=sitting_id,
            question_id=item.question.id,
            reason=form.reason,
            now=clock(),
        )
    flash(_("Your question about this item is kept. Somebody who did not write it decides."))
    return redirect(url_for("quizzes.result", sitting_id=sitting_id), code=303)


@bp.get("/disputes")
@requires(Permission.DECIDE_DISPUTE)
def disputes_of_shop() -> ResponseReturnValue:
    """List the disputed questions, undecided ones first."""
    rows = disputes(db(), signed_in().shop_id)
    return render(
        DisputesPage(
            tuple(
                Listed(
                    f"{row.question_id}: {row.raised_by_name}",
                    url_for("quizzes.dispute", dispute_id=row.id),
                    _state(row),
                    "waiting" if row.decided_at is None else "saved",
                )
                for row in rows
            )
        )
    )


@bp.get("/disputes/<uuid:dispute_id>")
@requires(Permission.DECIDE_DISPUTE)
def dispute(dispute_id: UUID) -> ResponseReturnValue:
    """Show one disputed question with its key and reasons."""
    return render(_page(_found(dispute_id), Filled()))


@bp.post("/disputes/<uuid:dispute_id>")
@requires(Permission.DECIDE_DISPUTE)
def decide(dispute_id: UUID) -> ResponseReturnValue:
    """Decide whether the question stands, and say how many results changed."""
    row, good = _found(dispute_id), course()
    try:
        form = DecideForm.of(request.form)
        with unit_of_work() as session:
            changed = service.decide_dispute(
                session,
                actor=signed_in(),
                dispute_id=row.id,
                voided=form.decision == "voided",
                decision=form.why,
                wrote_it=form.did_not_write is None,
                course=good,
                now=clock(),
            )
    except FormRefused as fault:
        return render(_page(row, fault.filled), 422)
    except service.NotUninvolved as refusal:
        return render(_page(row, refused(request.form, refusal)), 422)
    if form.decision == "voided":
        flash(ngettext("One result changed.", "%(num)s results changed.", changed))
    else:
        flash(_("The question stands; no result changed."))
    return redirect(url_for("quizzes.dispute", dispute_id=dispute_id), code=303)


def _handed_in(sitting_id: UUID) -> OwnSitting:
    """Return one's own sitting whose result is shown; before that there is nothing to question."""
    own = own_sitting(signed_in(), sitting_id)
    if own.row.result is None or (own.row.examination is not None and own.row.passed is None):
        abort(404)
    return own


def _form_page(own: OwnSitting, position: int, form: Filled) -> DisputeFormPage:
    return DisputeFormPage(
        form=form,
        dispute_id=kept_id(request.form, "dispute_id") if request.form else uuid4(),
        result_url=url_for("quizzes.result", sitting_id=own.row.id),
        position=position,
        stem_html=own.item(position).question.stem_html,
    )


def _found(dispute_id: UUID) -> DisputeRow:
    """Return a dispute of the shop; 404 for none and for another shop's."""
    row = next(iter(disputes(db(), signed_in().shop_id, dispute_id)), None)
    if row is None:
        abort(404)
    return row


def _state(row: DisputeRow) -> str:
    if row.decided_at is None:
        return _("not decided")
    return _("taken out of every result") if row.voided else _("stands")


def _page(row: DisputeRow, form: Filled) -> DisputePage:
    sitting = sitting_in_shop(db(), signed_in().shop_id, row.sitting_id)
    if sitting is None:
        abort(404)
    # the page shows the key, which a sitting of one's own may still ask for
    refuse_while_it_counts(db(), signed_in(), questions={row.question_id})
    return DisputePage(
        form=form,
        facts=(
            Fact(_("Questioned by"), row.raised_by_name),
            Fact(_("In"), title_of(sitting.purpose, sitting.module_id, sitting.scheme_id)),
            Fact(_("Question"), row.question_id),
            Fact(_("Decision"), _state(row)),
        ),
        reason=row.reason,
        question=_reviewed(row, sitting.form),
        decided=row.decision or "",
        choices=(
            Choosable("stands", _("It stands"), _("the question is right and clear enough")),
            Choosable(
                "voided",
                _("It is taken out"),
                _("of every result that rests on this wording; nobody loses a pass"),
            ),
        ),
    )


def _reviewed(row: DisputeRow, form: dict[str, object]) -> ReviewedQuestion:
    items = drawn_form_from_frozen(form).form
    item = items.find(row.question_id)
    if item is None:
        abort(404)
    response = responses(db(), signed_in().shop_id, row.sitting_id).get(row.question_id)
    position = items.question_ids.index(row.question_id) + 1
    return reviewed(position, item, response, marks(item.question, response), course())
