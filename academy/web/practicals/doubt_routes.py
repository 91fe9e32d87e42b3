"""Settling readings that a failed verification put in doubt."""

from __future__ import annotations

from decimal import Decimal
from uuid import UUID, uuid4

from flask import flash, redirect, request, url_for
from flask.typing import ResponseReturnValue

from academy.domain.people import Permission
from academy.domain.sentences import TradeError
from academy.services import doubt as service
from academy.store.queries.practicals import StoredPractical
from academy.web.context import clock, course, db, unit_of_work
from academy.web.forms import FormRefused, as_typed, decimal_typed, kept_id, refused
from academy.web.identity import requires, signed_in
from academy.web.language import gettext as _
from academy.web.pages import Page, render
from academy.web.parts import Filled
from academy.web.practicals.blueprint import bp
from academy.web.practicals.doubt_pages import doubt_page
from academy.web.practicals.forms import AgainForm, DecisionForm
from academy.web.practicals.one import practical_for


@bp.get("/<uuid:practical_id>/doubt")
@requires(Permission.READ_BOARD)
def doubt(practical_id: UUID) -> ResponseReturnValue:
    """Show what is in doubt and how it can be settled."""
    return render(_page(practical_for(signed_in(), practical_id), Filled(), uuid4()))


@bp.post("/<uuid:practical_id>/doubt/measured-again")
@requires(Permission.ASSESS_PRACTICAL)
def measure_again(practical_id: UUID) -> ResponseReturnValue:
    """Keep the new readings beside the old ones."""
    stored = practical_for(signed_in(), practical_id)
    settlement_id = kept_id(request.form, "settlement_id")
    try:
        form, good = AgainForm.of(request.form), course()
        new = service.NewReadings(settlement_id, practical_id, form.gauge_id, _typed(stored))
        with unit_of_work() as session:
            spots = service.measure_again(
                session, actor=signed_in(), new=new, course=good, now=clock()
            )
    except FormRefused as fault:
        return render(_page(stored, fault.filled, settlement_id), 422)
    except TradeError as refusal:
        return render(_page(stored, refused(request.form, refusal), settlement_id), 422)
    flash(
        _("It agrees: the readings on record stand.")
        if all(spot.agrees for spot in spots)
        else _("It differs. Both are kept, and the owner decides.")
    )
    return redirect(url_for("practicals.practical", practical_id=practical_id), code=303)


@bp.post("/<uuid:practical_id>/doubt/decision")
@requires(Permission.SETTLE_DOUBT)
def decide_doubt(practical_id: UUID) -> ResponseReturnValue:
    """Let the readings stand or not, as the owner, with a reason."""
    stored = practical_for(signed_in(), practical_id)
    settlement_id = kept_id(request.form, "settlement_id")
    try:
        form, good = DecisionForm.of(request.form), course()
        accepted = form.decision == "accept"
        decision = service.Decision(settlement_id, practical_id, accepted, form.reason)
        with unit_of_work() as session:
            service.decide_doubt(
                session, actor=signed_in(), decision=decision, course=good, now=clock()
            )
    except FormRefused as fault:
        return render(_page(stored, fault.filled, settlement_id), 422)
    except TradeError as refusal:
        return render(_page(stored, refused(request.form, refusal), settlement_id), 422)
    flash(_("Decided. What this person may do is up to date on the board."))
    return redirect(url_for("practicals.practical", practical_id=practical_id), code=303)


def _page(stored: StoredPractical, form: Filled, settlement_id: UUID) -> Page:
    actor = signed_in()
    found = service.doubt_of(db(), actor.shop_id, stored.practical.id)
    return doubt_page(stored, actor, found, form, settlement_id)


def _typed(stored: StoredPractical) -> tuple[tuple[Decimal, ...], ...]:
    """Return what was typed for each spot; raises FormRefused with every fault."""
    recorded = service.newest_readings(stored)
    read: list[tuple[Decimal, ...]] = []
    faults: dict[str, str] = {}
    for spot in recorded.spots if recorded else ():
        name = f"spot-{spot.spot}"
        try:
            read.append(tuple(map(_thickness, request.form.get(name, "").split())))
        except ValueError:
            faults[name] = _("Write thicknesses in µm with a space between, such as 109.4 109.6")
    if faults:
        raise FormRefused(Filled(as_typed(request.form), faults))
    return tuple(read)


def _thickness(word: str) -> Decimal:
    value = float(str(decimal_typed(word)))
    if not 0 < value < 2000:
        raise ValueError(word)
    return Decimal(str(decimal_typed(word)))
