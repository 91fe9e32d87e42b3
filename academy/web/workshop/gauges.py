"""Gauges and foils: the register, and the verification before the day's work."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from decimal import Decimal
from uuid import UUID, uuid4

from flask import abort, flash, redirect, request, url_for
from flask.typing import ResponseReturnValue

from academy.domain.metrology.methods import GaugeMethod
from academy.domain.people import Permission
from academy.domain.workshop.gauges import LEAST_READINGS, GaugeRefusal, verified_now
from academy.services import gauges, workshop
from academy.store.queries.gauges import FoilRow, VerificationRow, foils, newest_checks
from academy.store.queries.gauges import verifications as stored_verifications
from academy.store.queries.shop_settings import policy
from academy.store.queries.workshop import GaugeRow, gauge
from academy.web.context import clock, db, unit_of_work
from academy.web.forms import FormRefused, as_typed, decimal_typed, error_text, kept_id
from academy.web.identity import requires, signed_in
from academy.web.language import day_text
from academy.web.language import gettext as _
from academy.web.pages import render
from academy.web.parts import Cell, Choosable, Column, Fact, Filled, Listed, ReadingsTable, Row
from academy.web.times import shop_day, today
from academy.web.workshop import words
from academy.web.workshop.blueprint import bp
from academy.web.workshop.forms import FoilForm, GaugeForm
from academy.web.workshop.pages import FoilPage, GaugeHistoryPage, GaugePage, VerifyPage

SHOWN = 20


@bp.get("/workshop/gauges/new")
@requires(Permission.WRITE_WORKSHOP)
def new_gauge() -> ResponseReturnValue:
    """Show the form for a gauge."""
    return render(GaugePage(Filled(), uuid4(), words.methods()))


@bp.post("/workshop/gauges")
@requires(Permission.WRITE_WORKSHOP)
def add_gauge() -> ResponseReturnValue:
    """Add a gauge."""
    try:
        form = GaugeForm.of(request.form)
    except FormRefused as fault:
        page = GaugePage(fault.filled, kept_id(request.form, "gauge_id"), words.methods())
        return render(page, 422)
    new = workshop.NewGauge(
        **form.model_dump(exclude={"gauge_id", "methods"}), methods=tuple(form.methods)
    )
    with unit_of_work() as session:
        workshop.add_gauge(
            session, actor=signed_in(), gauge_id=form.gauge_id, gauge=new, now=clock()
        )
    flash(_("The gauge %(label)s is in the workshop.", label=form.label))
    return redirect(url_for("workshop.gauge_history", gauge_id=form.gauge_id), code=303)


@bp.get("/workshop/foils/new")
@requires(Permission.WRITE_WORKSHOP)
def new_foil() -> ResponseReturnValue:
    """Show the form for a foil."""
    return render(FoilPage(Filled(), uuid4()))


@bp.post("/workshop/foils")
@requires(Permission.WRITE_WORKSHOP)
def add_foil() -> ResponseReturnValue:
    """Add a certified foil."""
    try:
        form = FoilForm.of(request.form)
    except FormRefused as fault:
        return render(FoilPage(fault.filled, kept_id(request.form, "foil_id")), 422)
    new = gauges.NewFoil(**form.model_dump(exclude={"foil_id"}))
    with unit_of_work() as session:
        gauges.add_foil(session, actor=signed_in(), foil_id=form.foil_id, foil=new, now=clock())
    flash(_("The foil %(label)s is in the workshop.", label=form.label))
    return redirect(url_for("workshop.overview"), code=303)


@bp.get("/workshop/gauges/<uuid:gauge_id>")
@requires(Permission.READ_WORKSHOP)
def gauge_history(gauge_id: UUID) -> ResponseReturnValue:
    """Show a gauge with its verifications."""
    row = _gauge(gauge_id)
    kept = stored_verifications(db(), signed_in().shop_id, gauge_id, SHOWN)
    return render(
        GaugeHistoryPage(
            row.label, gauge_id, _facts(row), gauge_states(row), tuple(map(_verification, kept))
        )
    )


@bp.get("/workshop/gauges/<uuid:gauge_id>/verify/<method>")
@requires(Permission.VERIFY_GAUGE)
def verify(gauge_id: UUID, method: str) -> ResponseReturnValue:
    """Show the form for a verification."""
    return render(_verify_page(Filled(), _gauge(gauge_id), _method(method), uuid4()))


@bp.post("/workshop/gauges/<uuid:gauge_id>/verify/<method>")
@requires(Permission.VERIFY_GAUGE)
def verify_gauge(gauge_id: UUID, method: str) -> ResponseReturnValue:
    """Judge and keep a verification."""
    row, chosen = _gauge(gauge_id), _method(method)
    verification_id = kept_id(request.form, "verification_id")
    known = foils(db(), signed_in().shop_id)
    try:
        read = _typed_readings(known)
        new = gauges.NewVerification(
            verification_id,
            gauge_id,
            chosen,
            read["zero"],
            {foil.id: read[str(foil.id)] for foil in known if read[str(foil.id)]},
        )
        with unit_of_work() as session:
            verified = gauges.verify_gauge(session, actor=signed_in(), new=new, now=clock())
    except FormRefused as fault:
        return render(_verify_page(fault.filled, row, chosen, verification_id), 422)
    except GaugeRefusal as fault:
        filled = Filled(as_typed(request.form), {"": error_text(fault)})
        return render(_verify_page(filled, row, chosen, verification_id), 422)
    flash(
        _("%(gauge)s passed. It may be read from today.", gauge=row.label)
        if verified.passed
        else _("%(gauge)s failed. Nobody reads with it until it passes.", gauge=row.label)
    )
    return redirect(url_for("workshop.gauge_history", gauge_id=gauge_id), code=303)


def gauge_states(row: GaugeRow) -> tuple[Listed, ...]:
    """Return for each method whether the gauge may be read from now, with the way to verify it."""
    shop_id = signed_in().shop_id
    newest, zone = newest_checks(db(), shop_id), policy(db(), shop_id).zone
    states = []
    for method in row.methods:
        check = newest.get((row.id, method))
        word = words.word_of(words.methods(), method)
        if check is not None and not check.passed:
            sign, says = "fault", _("failed: nobody reads with it until it passes")
        elif check is not None and verified_now([check], clock(), zone):
            sign, says = "valid", _("verified today")
        else:
            sign = "waiting"
            says = _("not verified today: two minutes on bare metal and your foils")
        url = url_for("workshop.verify", gauge_id=row.id, method=method.value)
        states.append(
            Listed(_("Verify %(gauge)s, %(method)s", gauge=row.label, method=word), url, says, sign)
        )
    return tuple(states)


def _gauge(gauge_id: UUID) -> GaugeRow:
    found = gauge(db(), signed_in().shop_id, gauge_id)
    return found if found is not None else abort(404)


def _method(word: str) -> GaugeMethod:
    try:
        return GaugeMethod(word)
    except ValueError:
        abort(404)


def _facts(row: GaugeRow) -> tuple[Fact, ...]:
    due = row.certificate_due_on
    facts = (
        Fact(_("Serial number"), row.serial),
        Fact(_("Resolution"), f"{row.resolution_um} µm"),
        Fact(
            _("Stated tolerance"),
            f"±({row.tolerance.absolute_um} µm + {row.tolerance.percent} %)",
        ),
        Fact(_("Repeatability"), f"{row.repeatability_um} µm"),
        Fact(_("Calibration certificate"), row.certificate_number),
        Fact(_("Calibration due"), day_text(due) if due else ""),
    )
    return tuple(fact for fact in facts if fact.value)


def _verification(row: VerificationRow) -> ReadingsTable:
    return ReadingsTable(
        _(
            "%(day)s, %(method)s, by %(person)s: %(outcome)s",
            day=day_text(shop_day(row.verified_at)),
            method=words.word_of(words.methods(), row.method),
            person=row.verified_by,
            outcome=_("passed") if row.passed else _("failed"),
        ),
        (
            Column(_("Standard")),
            Column(_("Certified, µm")),
            Column(_("Mean, µm")),
            Column(_("Error, µm")),
            Column(_("Allowed, µm")),
            Column(_("Outcome"), words=True),
        ),
        tuple(_standard(line) for line in row.checks),
    )


def _standard(line: Mapping[str, object]) -> Row:
    outcome = Cell(_("passed"), sign="valid") if line["passed"] else Cell(_("failed"), sign="fault")
    numbers = (str(line[key]) for key in ("certified_um", "mean_um", "error_um", "limit_um"))
    label = _("bare metal") if line["certified_um"] == "0" else str(line["standard"])
    return Row(label, (*map(Cell, numbers), outcome))


def _verify_page(
    form: Filled, row: GaugeRow, method: GaugeMethod, verification_id: UUID
) -> VerifyPage:
    if method not in row.methods:
        abort(404)
    on_steel = method is GaugeMethod.MAGNETIC
    standards = [Choosable("zero", _("Bare metal (zero)"))]
    for foil in foils(db(), signed_in().shop_id):
        hint = _foil_hint(foil)
        standards.append(Choosable(str(foil.id), foil.label, hint))
    return VerifyPage(
        form,
        _("Verify %(gauge)s", gauge=row.label),
        row.id,
        verification_id,
        method.value,
        _("steel") if on_steel else _("aluminium"),
        tuple(standards),
        {standard.value: standard.label for standard in standards},
    )


def _foil_hint(foil: FoilRow) -> str:
    due = foil.certificate_due_on
    if due is not None and due < today():
        return _(
            "certified %(um)s µm, but its certificate was due on %(day)s: judge with another foil"
            " if you have one",
            um=foil.certified_um,
            day=day_text(due),
        )
    return _("certified %(um)s µm; leave empty if it is not at hand", um=foil.certified_um)


def _typed_readings(known: Sequence[FoilRow]) -> dict[str, tuple[Decimal, ...]]:
    """Return the readings typed for each standard; raises FormRefused with every fault."""
    names = ["zero", *(str(foil.id) for foil in known)]
    read: dict[str, tuple[Decimal, ...]] = {}
    faults: dict[str, str] = {}
    for name in names:
        try:
            read[name] = _decimals(request.form.get(name, ""))
        except ValueError:
            faults[name] = _(
                "Write at least three readings with a space between, such as 49.8 50.1"
            )
    if not read.get("zero") and "zero" not in faults:
        faults["zero"] = _("Read bare metal at least %(n)s times", n=LEAST_READINGS)
    if faults:
        raise FormRefused(Filled(as_typed(request.form), faults))
    return read


def _decimals(typed: str) -> tuple[Decimal, ...]:
    values = []
    for word in typed.replace(";", " ").split():
        value = float(str(decimal_typed(word)))
        if not -2000 < value < 2000:
            raise ValueError(word)
        values.append(Decimal(str(decimal_typed(word))))
    return tuple(values)
