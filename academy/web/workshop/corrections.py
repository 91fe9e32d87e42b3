"""Putting right what was typed wrong: what stands there, the right value, and why."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any
from uuid import UUID, uuid4

from flask import abort, flash, redirect, request, url_for
from flask.typing import ResponseReturnValue
from pydantic import create_model
from werkzeug.datastructures import MultiDict

from academy.domain.people import Permission
from academy.domain.sentences import TradeError
from academy.domain.workshop.corrections import CORRECTABLE, Corrected, NotCorrectable
from academy.services.corrections import NewCorrection, correct_entry
from academy.store.queries.corrections import CorrectionRow, corrections, present_values
from academy.web.context import clock, db, unit_of_work
from academy.web.forms import Form, FormRefused, as_typed, kept_id, refused
from academy.web.identity import requires, signed_in
from academy.web.language import gettext as _
from academy.web.pages import Page, render
from academy.web.parts import Cell, Choosable, Column, Filled, Listed, ReadingsTable, Row
from academy.web.times import when_words
from academy.web.workshop.blueprint import bp
from academy.web.workshop.forms import CorrectionForm, FoilForm, GaugeForm, MachineForm, PanelForm
from academy.web.workshop.pages import CorrectionsPage, CorrectPage

FORMS: Mapping[Corrected, type[Form]] = {
    Corrected.GAUGE: GaugeForm,
    Corrected.FOIL: FoilForm,
    Corrected.MACHINE: MachineForm,
    Corrected.PANEL: PanelForm,
}


@bp.get("/workshop/corrections/<thing>/<uuid:thing_id>")
@requires(Permission.WRITE_WORKSHOP)
def entry(thing: str, thing_id: UUID) -> ResponseReturnValue:
    """Show what stands in an entry, and everything that was corrected in it."""
    kind = _thing(thing)
    present, words = _present(kind, thing_id), field_words()
    done = corrections(db(), signed_in().shop_id, thing_id)
    return render(
        CorrectionsPage(
            _("Correct %(label)s", label=present["label"]),
            tuple(
                Listed(
                    words[field],
                    url_for("workshop.correct", thing=kind.value, thing_id=thing_id, field=field),
                    value or _("nothing"),
                )
                for field, value in present.items()
            ),
            _done_table(done) if done else None,
        )
    )


@bp.get("/workshop/corrections/<thing>/<uuid:thing_id>/<field>")
@requires(Permission.WRITE_WORKSHOP)
def correct(thing: str, thing_id: UUID, field: str) -> ResponseReturnValue:
    """Show the form for one value."""
    kind = _thing(thing)
    return render(_page(kind, thing_id, field, Filled(), uuid4()))


@bp.post("/workshop/corrections/<thing>/<uuid:thing_id>/<field>")
@requires(Permission.WRITE_WORKSHOP)
def correct_value(thing: str, thing_id: UUID, field: str) -> ResponseReturnValue:
    """Change one value, and keep the old one beside it."""
    kind, correction_id = _thing(thing), kept_id(request.form, "correction_id")
    _present(kind, thing_id)
    try:
        value = _checked(kind, field)
        form = CorrectionForm.of(request.form)
        new = NewCorrection(correction_id, kind, thing_id, field, form.seen, value, form.reason)
        with unit_of_work() as session:
            correct_entry(session, actor=signed_in(), new=new, now=clock())
    except FormRefused as fault:
        return render(_page(kind, thing_id, field, fault.filled, correction_id), 422)
    except TradeError as refusal:
        filled = refused(request.form, refusal)
        return render(_page(kind, thing_id, field, filled, correction_id), 422)
    flash(_("Corrected. The old value stays readable below."))
    return redirect(url_for("workshop.entry", thing=kind.value, thing_id=thing_id), code=303)


def field_words() -> Mapping[str, str]:
    """Return what each correctable field is called."""
    return {
        "label": _("Label"),
        "serial": _("Serial number"),
        "resolution_um": _("Resolution, µm"),
        "certified_um": _("Certified thickness, µm"),
        "tolerance_um": _("Stated tolerance, fixed part, µm"),
        "tolerance_percent": _("Stated tolerance, share of the thickness, %"),
        "certificate_number": _("Calibration certificate"),
        "certificate_due_on": _("Calibration due"),
        "plate_mm": _("Plate, mm"),
        "vibration_m_s2": _("Vibration, m/s²"),
        "vibration_uncertainty_m_s2": _("Uncertainty of the vibration, m/s²"),
        "checked_on": _("Electrical check made"),
        "check_due_on": _("Electrical check due"),
        "paint_system": _("Paint"),
        "colour": _("Colour"),
    }


def _thing(word: str) -> Corrected:
    try:
        return Corrected(word)
    except ValueError:
        abort(404)


def _present(thing: Corrected, thing_id: UUID) -> Mapping[str, str]:
    found = present_values(db(), signed_in().shop_id, thing, thing_id)
    return found if found is not None else abort(404)


def _page(thing: Corrected, thing_id: UUID, field: str, form: Filled, correction_id: UUID) -> Page:
    present = _present(thing, thing_id)
    if field not in present:
        abort(404)
    what = field_words()[field]
    return CorrectPage(
        _("%(what)s of %(label)s", what=what, label=present["label"]),
        form,
        Choosable(field, what, present[field]),
        "date" if field.endswith("_on") else "text",
        FORMS[thing].model_fields[field].is_required(),
        correction_id,
        url_for("workshop.entry", thing=thing.value, thing_id=thing_id),
    )


def _checked(thing: Corrected, field: str) -> Any:
    """Return the typed value as the entry's own form takes it; raises FormRefused."""
    info = FORMS[thing].model_fields.get(field)
    if info is None or field not in CORRECTABLE[thing]:
        raise NotCorrectable()
    value: Any = (info.annotation, info)
    one = create_model("One", __base__=Form, value=value)
    typed = MultiDict({"value": request.form.get("value", "")})
    try:
        return one.of(typed).model_dump()["value"]
    except FormRefused as fault:
        raise FormRefused(Filled(as_typed(request.form), fault.filled.faults)) from None


def _done_table(done: Sequence[CorrectionRow]) -> ReadingsTable:
    return ReadingsTable(
        _("What was corrected, newest first"),
        (
            Column(_("When")),
            Column(_("What"), words=True),
            Column(_("Was"), words=True),
            Column(_("Is"), words=True),
            Column(_("By"), words=True),
            Column(_("Why"), words=True),
        ),
        tuple(map(_done_row, done)),
    )


def _done_row(row: CorrectionRow) -> Row:
    nothing = _("nothing")
    told = (row.before or nothing, row.after or nothing, row.corrected_by, row.reason)
    what = field_words().get(row.field, row.field)
    return Row(when_words(row.corrected_at), tuple(map(Cell, (what, *told))))
