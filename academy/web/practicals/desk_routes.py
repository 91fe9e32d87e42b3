"""The signing desk: several records at once, each one shown, with the password once."""

from __future__ import annotations

from uuid import UUID

from flask import abort, flash, redirect, request, url_for
from flask.typing import ResponseReturnValue
from werkzeug.datastructures import MultiDict

from academy.domain.people import Permission
from academy.domain.practical.outcome import measured_of
from academy.domain.practical.signatures import Meaning, is_late
from academy.domain.sentences import TradeError
from academy.services.signing import Shown, sign_at_desk
from academy.store.queries import judgement as queries
from academy.store.queries import people as people_queries
from academy.store.queries.desk import Unsigned, sign_in_name, unsigned
from academy.store.queries.people import member
from academy.store.queries.shop_settings import policy
from academy.web.context import clock, course, db, unit_of_work
from academy.web.formats import sentence_text
from academy.web.forms import FormRefused, as_typed, printable, refused
from academy.web.identity import proof_of, requires, signed_in
from academy.web.language import gettext as _
from academy.web.language import ngettext
from academy.web.pages import render
from academy.web.parts import Filled, Link
from academy.web.practicals.blueprint import bp
from academy.web.practicals.desk_forms import DeskForm
from academy.web.practicals.desk_pages import DeskPage, ToSign
from academy.web.practicals.one import practical_for
from academy.web.practicals.record_cards import record_card


@bp.get("/desk")
@requires(Permission.SIGN_PRACTICAL)
def desk() -> ResponseReturnValue:
    """Show what waits for one's own signature."""
    return render(_page(signed_in().person_id, Filled()))


@bp.post("/desk")
@requires(Permission.SIGN_PRACTICAL)
def sign_own() -> ResponseReturnValue:
    """Sign the records ticked."""
    return _signed(signed_in().person_id)


@bp.get("/desk/<uuid:person_id>")
@requires(Permission.SIGN_PRACTICAL)
def desk_of(person_id: UUID) -> ResponseReturnValue:
    """Show what waits for somebody else, who signs on this device."""
    return render(_page(person_id, Filled()))


@bp.post("/desk/<uuid:person_id>")
@requires(Permission.SIGN_PRACTICAL)
def sign_here(person_id: UUID) -> ResponseReturnValue:
    """Let somebody else sign the records ticked on this device, with their own password."""
    return _signed(person_id)


def _signed(person_id: UUID) -> ResponseReturnValue:
    _name_of(person_id)
    try:
        form = DeskForm.of(request.form)
        shown = [_as_shown(practical_id, request.form) for practical_id in form.record]
        for one in shown:
            practical_for(signed_in(), one.practical_id)
        proof, good = proof_of(sign_in_name(db(), person_id), form.password), course()
        with unit_of_work() as session:
            signed = sign_at_desk(
                session, actor=signed_in(), shown=shown, proof=proof, course=good, now=clock()
            )
    except FormRefused as fault:
        typed = Filled(as_typed(request.form), fault.filled.faults)
        return render(_page(person_id, typed), 422)
    except TradeError as refusal:
        return render(_page(person_id, refused(request.form, refusal)), 422)
    flash(
        ngettext("One record is signed.", "%(num)s records are signed.", signed)
        if signed
        else _("These records were signed already; nothing was doubled.")
    )
    return redirect(_address(person_id), code=303)


def _as_shown(practical_id: UUID, sent: MultiDict[str, str]) -> Shown:
    return Shown(
        practical_id,
        sent.get(f"digest-{practical_id}", ""),
        printable(sent.get(f"late-{practical_id}", ""))[:500],
    )


def _page(person_id: UUID, form: Filled) -> DeskPage:
    actor = signed_in()
    waiting = [
        one
        for one in unsigned(db(), actor.shop_id)
        if actor.may(Permission.READ_BOARD)
        or actor.person_id in {one.trainee_id, one.supervisor_id}
    ]
    others = {one.person_id for one in waiting if _concerns(one, actor.person_id)} - {person_id}
    names = people_queries.names(db(), list(others))
    return DeskPage(
        form=form,
        person_name=_name_of(person_id),
        own=person_id == actor.person_id,
        records=tuple(_to_sign(one) for one in waiting if one.person_id == person_id),
        others=tuple(
            Link(names[one], _address(one)) for one in sorted(others, key=lambda i: names[i])
        ),
    )


def _to_sign(one: Unsigned) -> ToSign:
    actor = signed_in()
    stored = practical_for(actor, one.practical_id)
    practical, record = stored.practical, stored.record
    assert record is not None
    names = people_queries.names(db(), [practical.trainee_id, practical.supervisor_id])
    shown = measured_of(practical, stored.gauge)
    row = queries.records_of(db(), actor.shop_id, practical.id)[-1]
    own = one.meaning is Meaning.AGREED and actor.person_id == practical.trainee_id
    return ToSign(
        practical_id=str(practical.id),
        title=practical.task.title,
        people=_(
            "%(trainee)s, with %(supervisor)s, %(section)s",
            trainee=names[practical.trainee_id],
            supervisor=names[practical.supervisor_id],
            section=stored.section_name,
        ),
        verdict=sentence_text(shown.verdict) if shown else "",
        means=_("You sign: assessed, as I saw it and as it stands here")
        if one.meaning is Meaning.ASSESSED
        else _("You sign: seen and agreed"),
        late=is_late(record.frozen_at, clock(), policy(db(), actor.shop_id).zone),
        card=record_card(practical, row, newest=True),
        whole_url=url_for("practicals.practical", practical_id=practical.id),
        object_url=url_for("practicals.object_to_record", practical_id=practical.id) if own else "",
    )


def _concerns(one: Unsigned, person_id: UUID) -> bool:
    """Return whether somebody who signs here was part of the practical."""
    return person_id in {one.trainee_id, one.supervisor_id}


def _name_of(person_id: UUID) -> str:
    """Return the name of a person of the shop; 404 for anybody else."""
    found = member(db(), signed_in().shop_id, person_id)
    if found is None:
        abort(404)
    return found.name


def _address(person_id: UUID) -> str:
    if person_id == signed_in().person_id:
        return url_for("practicals.desk")
    return url_for("practicals.desk_of", person_id=person_id)
