"""Closing a record at the panel."""

from __future__ import annotations

from uuid import UUID

from flask import flash, redirect, request, url_for
from flask.typing import ResponseReturnValue

from academy.domain.people import Permission
from academy.domain.practical.signatures import AbsentWithoutReason, Presence
from academy.services.closing import close_practical
from academy.web.context import clock, unit_of_work
from academy.web.forms import FormRefused, refused
from academy.web.identity import requires, signed_in
from academy.web.language import gettext as _
from academy.web.pages import render
from academy.web.practicals.blueprint import bp
from academy.web.practicals.desk_forms import CloseForm
from academy.web.practicals.one import practical_for, shown_practical


@bp.post("/<uuid:practical_id>/close")
@requires(Permission.ASSESS_PRACTICAL)
def close(practical_id: UUID) -> ResponseReturnValue:
    """Freeze the record at the panel."""
    stored = practical_for(signed_in(), practical_id)
    try:
        form = CloseForm.of(request.form)
        presence = Presence(form.trainee == "there", form.why_not)
        with unit_of_work() as session:
            close_practical(
                session,
                actor=signed_in(),
                practical_id=practical_id,
                now=clock(),
                presence=presence,
            )
    except FormRefused as fault:
        return render(shown_practical(stored, fault.filled), 422)
    except AbsentWithoutReason as refusal:
        return render(shown_practical(stored, refused(request.form, refusal, "why_not")), 422)
    flash(_("The record is closed. It is signed at the desk, gloves off, the same day."))
    return redirect(url_for("practicals.practical", practical_id=practical_id), code=303)
