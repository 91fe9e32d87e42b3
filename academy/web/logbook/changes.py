"""Whether a practical shows the one thing that was to change."""

from __future__ import annotations

from uuid import UUID, uuid4

from flask import abort, flash, redirect, request, url_for
from flask.typing import ResponseReturnValue

from academy.domain.people import Permission
from academy.domain.practical.talks import ChangeState
from academy.services import change_follow_up as service
from academy.services.change_follow_up import NewLook, to_look_for
from academy.store.queries.people import names
from academy.store.queries.practicals import StoredPractical, stored_practical
from academy.web.context import clock, db, unit_of_work
from academy.web.forms import FormRefused
from academy.web.identity import requires, signed_in
from academy.web.language import day_text
from academy.web.language import gettext as _
from academy.web.logbook.blueprint import bp
from academy.web.logbook.forms import ChangeForm
from academy.web.logbook.pages import ChangeLine, ChangesPage
from academy.web.logbook.words import answer_word, answers
from academy.web.pages import Page, render
from academy.web.parts import Filled, Link
from academy.web.times import shop_day


@bp.get("/practicals/<uuid:practical_id>/to-change")
@requires(Permission.ASSESS_PRACTICAL)
def to_change(practical_id: UUID) -> ResponseReturnValue:
    """Show what to look for in this practical."""
    return render(_page(_own(practical_id), Filled()))


@bp.post("/practicals/<uuid:practical_id>/to-change")
@requires(Permission.ASSESS_PRACTICAL)
def say_whether_it_shows(practical_id: UUID) -> ResponseReturnValue:
    """Keep what the supervisor saw."""
    stored = _own(practical_id)
    try:
        form = ChangeForm.of(request.form)
    except FormRefused as fault:
        return render(_page(stored, fault.filled), 422)
    new = NewLook(form.look_id, form.asked_in, practical_id, form.seen)
    with unit_of_work() as session:
        service.say_whether_it_shows(session, actor=signed_in(), new=new, now=clock())
    flash(_("Noted, and the trainee can read it in the logbook."))
    return redirect(url_for("logbook.to_change", practical_id=practical_id), code=303)


def _own(practical_id: UUID) -> StoredPractical:
    """Return a practical of the supervisor who stands at its panel."""
    stored = stored_practical(db(), signed_in().shop_id, practical_id)
    if stored is None:
        abort(404)
    if stored.practical.supervisor_id != signed_in().person_id:
        abort(403)
    return stored


def _page(stored: StoredPractical, form: Filled) -> Page:
    practical = stored.practical
    found = to_look_for(db(), signed_in().shop_id, practical.id)
    return ChangesPage(
        practical_id=practical.id,
        trainee=dict(names(db(), [practical.trainee_id])).get(practical.trainee_id, "–"),
        lines=tuple(_line(state, form) for state in found),
        answers=answers(),
        back=Link(
            _("Back to the practical"), url_for("practicals.practical", practical_id=practical.id)
        ),
    )


def _line(state: ChangeState, form: Filled) -> ChangeLine:
    mine = form.typed.get("asked_in") == str(state.asked.practical_id)
    says = _("said on %(day)s", day=day_text(shop_day(state.asked.asked_at)))
    if state.last is not None:
        says = _("%(says)s; last word: %(seen)s", says=says, seen=answer_word(state.last.seen))
    return ChangeLine(
        state.asked.practical_id,
        uuid4(),
        state.asked.change,
        url_for("practicals.practical", practical_id=state.asked.practical_id),
        says,
        form if mine else Filled(),
    )
