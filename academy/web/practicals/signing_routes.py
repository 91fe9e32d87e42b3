"""Closing a record at the panel and signing it at the desk."""

from __future__ import annotations

from uuid import UUID

from flask import flash, redirect, request, url_for
from flask.typing import ResponseReturnValue

from academy.domain.people import Permission
from academy.domain.sentences import TradeError
from academy.services import signing as service
from academy.services.closing import close_practical
from academy.web.context import clock, course, unit_of_work
from academy.web.forms import FormRefused, refused
from academy.web.identity import proof_of, requires, signed_in
from academy.web.language import gettext as _
from academy.web.pages import render
from academy.web.practicals.blueprint import bp
from academy.web.practicals.forms import SignForm
from academy.web.practicals.one import practical_for, shown_practical


@bp.post("/<uuid:practical_id>/close")
@requires(Permission.ASSESS_PRACTICAL)
def close(practical_id: UUID) -> ResponseReturnValue:
    """Freeze the record at the panel."""
    with unit_of_work() as session:
        close_practical(session, actor=signed_in(), practical_id=practical_id, now=clock())
    flash(_("The record is closed. It is signed at the desk, gloves off, the same day."))
    return redirect(url_for("practicals.practical", practical_id=practical_id), code=303)


@bp.post("/<uuid:practical_id>/sign-off")
@requires(Permission.SIGN_PRACTICAL)
def sign_off(practical_id: UUID) -> ResponseReturnValue:
    """Sign as the supervisor, by proving the password again."""
    stored = practical_for(signed_in(), practical_id)
    try:
        form = SignForm.of(request.form)
        proof = proof_of(form.sign_in_name, form.password)
        good = course()
        with unit_of_work() as session:
            service.sign_practical(
                session,
                actor=signed_in(),
                practical_id=practical_id,
                proof=proof,
                course=good,
                now=clock(),
            )
    except FormRefused as fault:
        return render(shown_practical(stored, sign_form=fault.filled), 422)
    except TradeError as refusal:
        filled = refused(request.form, refusal)
        return render(shown_practical(stored, sign_form=filled), 422)
    flash(_("Signed. What this person may do is up to date on the board."))
    return redirect(url_for("practicals.practical", practical_id=practical_id), code=303)


@bp.post("/<uuid:practical_id>/countersign")
@requires(Permission.SIGN_PRACTICAL)
def countersign(practical_id: UUID) -> ResponseReturnValue:
    """Countersign as the trainee, on whatever device this is."""
    stored = practical_for(signed_in(), practical_id)
    try:
        form = SignForm.of(request.form)
        proof = proof_of(form.sign_in_name, form.password)
        with unit_of_work() as session:
            service.countersign_practical(
                session, actor=signed_in(), practical_id=practical_id, proof=proof, now=clock()
            )
    except FormRefused as fault:
        return render(shown_practical(stored, countersign_form=fault.filled), 422)
    except TradeError as refusal:
        filled = refused(request.form, refusal)
        return render(shown_practical(stored, countersign_form=filled), 422)
    flash(_("Countersigned."))
    return redirect(url_for("practicals.practical", practical_id=practical_id), code=303)
