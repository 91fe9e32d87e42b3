"""Objecting to a record, and deciding what becomes of it."""

from __future__ import annotations

from uuid import UUID, uuid4

from flask import abort, flash, redirect, request, url_for
from flask.typing import ResponseReturnValue

from academy.domain.people import Permission, granted
from academy.domain.practical.counting import ObjectionState
from academy.domain.sentences import TradeError
from academy.services import objections as service
from academy.store.queries import judgement as queries
from academy.store.queries.people import members
from academy.store.queries.practicals import StoredPractical
from academy.web.context import clock, course, db, unit_of_work
from academy.web.forms import FormRefused, kept_id, refused
from academy.web.identity import requires, signed_in
from academy.web.language import gettext as _
from academy.web.pages import render
from academy.web.parts import Choosable, Fact, Filled
from academy.web.practicals.after_closing import objection_line, objection_state
from academy.web.practicals.blueprint import bp
from academy.web.practicals.desk_forms import DecideObjectionForm, ObjectForm
from academy.web.practicals.desk_pages import ObjectionPage, ObjectionsPage, ObjectPage
from academy.web.practicals.one import practical_for
from academy.web.practicals.record_cards import record_card, utc_text


@bp.get("/<uuid:practical_id>/objection")
@requires(Permission.SIGN_PRACTICAL)
def object_to_record(practical_id: UUID) -> ResponseReturnValue:
    """Show the form to object to one's own record."""
    return render(_object_page(_own_closed(practical_id), Filled()))


@bp.post("/<uuid:practical_id>/objection")
@requires(Permission.SIGN_PRACTICAL)
def raise_objection(practical_id: UUID) -> ResponseReturnValue:
    """Object to one's own record."""
    stored = _own_closed(practical_id)
    try:
        form = ObjectForm.of(request.form)
        good = course()
        with unit_of_work() as session:
            service.raise_objection(
                session,
                actor=signed_in(),
                objection_id=form.objection_id,
                practical_id=practical_id,
                reason=form.reason,
                course=good,
                now=clock(),
            )
    except FormRefused as fault:
        return render(_object_page(stored, fault.filled), 422)
    except TradeError as refusal:
        return render(_object_page(stored, refused(request.form, refusal)), 422)
    flash(_("Your objection is kept. The practical does not count until it is decided."))
    return redirect(url_for("practicals.practical", practical_id=practical_id), code=303)


@bp.get("/objections")
@requires(Permission.DECIDE_OBJECTION)
def objections_of_shop() -> ResponseReturnValue:
    """List the objections of the shop, undecided ones first."""
    rows = queries.objections(db(), signed_in().shop_id)
    return render(ObjectionsPage(tuple(objection_line(row) for row in rows)))


@bp.get("/objections/<uuid:objection_id>")
@requires(Permission.READ_PRACTICAL)
def objection(objection_id: UUID) -> ResponseReturnValue:
    """Show one objection with its decision."""
    return render(_page(_found(objection_id), Filled()))


@bp.post("/objections/<uuid:objection_id>")
@requires(Permission.DECIDE_OBJECTION)
def decide_objection(objection_id: UUID) -> ResponseReturnValue:
    """Decide an objection."""
    row = _found(objection_id)
    try:
        form = DecideObjectionForm.of(request.form)
        good = course()
        with unit_of_work() as session:
            service.decide_objection(
                session,
                actor=signed_in(),
                objection_id=objection_id,
                decision=form.decision,
                why=form.why,
                course=good,
                now=clock(),
            )
    except FormRefused as fault:
        return render(_page(row, fault.filled), 422)
    except TradeError as refusal:
        return render(_page(_found(objection_id), refused(request.form, refusal)), 422)
    flash(_("Decided. The trainee reads your reason."))
    return redirect(url_for("practicals.objection", objection_id=objection_id), code=303)


def _own_closed(practical_id: UUID) -> StoredPractical:
    stored = practical_for(signed_in(), practical_id)
    if stored.record is None or stored.practical.trainee_id != signed_in().person_id:
        abort(404)
    return stored


def _object_page(stored: StoredPractical, form: Filled) -> ObjectPage:
    shop_id, practical_id = signed_in().shop_id, stored.practical.id
    return ObjectPage(
        form=form,
        practical_id=practical_id,
        objection_id=kept_id(request.form, "objection_id") if request.form else uuid4(),
        title=stored.practical.task.title,
        card=record_card(
            stored.practical, queries.records_of(db(), shop_id, practical_id)[-1], newest=True
        ),
        who_decides=_who_decides(practical_id),
    )


def _found(objection_id: UUID) -> queries.ObjectionRow:
    """Return an objection this person may see; 404 for none and for somebody else's."""
    actor = signed_in()
    row = next(iter(queries.objections(db(), actor.shop_id, objection_id=objection_id)), None)
    if row is None:
        abort(404)
    practical_for(actor, row.practical_id)
    return row


def _page(row: queries.ObjectionRow, form: Filled) -> ObjectionPage:
    actor = signed_in()
    involved = queries.involved_in_teaching(db(), actor.shop_id, row.practical_id)
    is_open = row.state is ObjectionState.OPEN
    facts = [
        Fact(_("Task"), row.task_title),
        Fact(_("Raised by"), row.raised_by_name),
        Fact(_("Raised"), utc_text(row.raised_at)),
        Fact(_("How it stands"), objection_state(row.state)),
    ]
    if row.decided_at is not None:
        facts += [
            Fact(_("Decided by"), row.decided_by_name or "–"),
            Fact(_("Decided"), utc_text(row.decided_at)),
        ]
    return ObjectionPage(
        form=form,
        facts=tuple(facts),
        reason=row.reason,
        practical_url=url_for("practicals.practical", practical_id=row.practical_id),
        decided=row.decision or "",
        may_decide=is_open
        and actor.may(Permission.DECIDE_OBJECTION)
        and actor.person_id not in involved,
        who_decides=_who_decides(row.practical_id) if is_open else "",
        choices=(
            Choosable(ObjectionState.NOT_UPHELD, _("Not upheld"), _("the record stands")),
            Choosable(
                ObjectionState.TO_BE_AMENDED,
                _("Upheld, to be amended"),
                _("it counts again once whoever assessed it has amended and signed it"),
            ),
            Choosable(
                ObjectionState.SET_ASIDE,
                _("Upheld, set aside"),
                _("the practical counts neither for the trainee nor against; it stays readable"),
            ),
        ),
    )


def _who_decides(practical_id: UUID) -> str:
    """Return who may decide, by name; where nobody may, what to do."""
    shop_id = signed_in().shop_id
    involved = queries.involved_in_teaching(db(), shop_id, practical_id)
    names = [
        person.name
        for person in members(db(), shop_id)
        if person.person_id not in involved and granted(person.roles, Permission.DECIDE_OBJECTION)
    ]
    if names:
        return _(
            "Decided by somebody who neither taught nor assessed this task: %(names)s.",
            names=", ".join(names),
        )
    return _(
        "Nobody in this shop is uninvolved: everybody who could decide taught or assessed. The"
        " owner invites a supervisor from elsewhere to decide it. Until then the practical does"
        " not count, neither for the trainee nor against."
    )
