"""Machines, saved set-ups with their labels, and products with their safety data sheets."""

from __future__ import annotations

from uuid import UUID, uuid4

from flask import abort, flash, redirect, request, url_for
from flask.typing import ResponseReturnValue

from academy.documents.qr import qr_svg
from academy.domain.people import Permission
from academy.domain.practical.stages import Stage
from academy.services import tools
from academy.store.queries import tools as queries
from academy.store.queries.practicals import open_at_panel
from academy.web.context import academy, clock, db, unit_of_work
from academy.web.forms import FormRefused, kept_id, refused
from academy.web.identity import requires, signed_in
from academy.web.language import day_text
from academy.web.language import gettext as _
from academy.web.pages import render
from academy.web.parts import Choosable, Fact, Filled, Listed
from academy.web.workshop import words
from academy.web.workshop.blueprint import bp
from academy.web.workshop.forms import CheckForm, MachineForm, ProductForm, SetUpForm, SheetForm
from academy.web.workshop.pages import (
    CheckPage,
    LabelPage,
    MachinePage,
    ProductPage,
    ScannedSetUpPage,
    SetUpPage,
    SheetPage,
)


@bp.get("/workshop/machines/new")
@requires(Permission.WRITE_WORKSHOP)
def new_machine() -> ResponseReturnValue:
    """Show the form for a machine."""
    return render(_machine_page(Filled(), uuid4()))


@bp.post("/workshop/machines")
@requires(Permission.WRITE_WORKSHOP)
def add_machine() -> ResponseReturnValue:
    """Add a machine."""
    try:
        form = MachineForm.of(request.form)
    except FormRefused as fault:
        return render(_machine_page(fault.filled, kept_id(request.form, "machine_id")), 422)
    new = tools.NewMachine(**form.model_dump(exclude={"machine_id"}))
    with unit_of_work() as session:
        tools.add_machine(
            session, actor=signed_in(), machine_id=form.machine_id, machine=new, now=clock()
        )
    flash(_("The machine %(label)s is in the workshop.", label=form.label))
    return redirect(url_for("workshop.overview"), code=303)


@bp.get("/workshop/machines/<uuid:machine_id>/check")
@requires(Permission.WRITE_WORKSHOP)
def electrical_check(machine_id: UUID) -> ResponseReturnValue:
    """Show the form for a machine's electrical check."""
    return render(CheckPage(Filled(), _machine(machine_id).label, machine_id))


@bp.post("/workshop/machines/<uuid:machine_id>/check")
@requires(Permission.WRITE_WORKSHOP)
def record_electrical_check(machine_id: UUID) -> ResponseReturnValue:
    """Note a machine's electrical check."""
    label = _machine(machine_id).label
    try:
        form = CheckForm.of(request.form)
        with unit_of_work() as session:
            tools.record_electrical_check(
                session, actor=signed_in(), machine_id=machine_id, **form.model_dump()
            )
    except FormRefused as fault:
        return render(CheckPage(fault.filled, label, machine_id), 422)
    except tools.DueBeforeChecked as fault:
        page = CheckPage(refused(request.form, fault, "check_due_on"), label, machine_id)
        return render(page, 422)
    return redirect(url_for("workshop.overview"), code=303)


@bp.get("/workshop/set-ups/new")
@requires(Permission.WRITE_WORKSHOP)
def new_set_up() -> ResponseReturnValue:
    """Show the form for a set-up."""
    return render(_set_up_page(Filled(), uuid4()))


@bp.post("/workshop/set-ups")
@requires(Permission.WRITE_WORKSHOP)
def save_set_up() -> ResponseReturnValue:
    """Save a set-up."""
    try:
        form = SetUpForm.of(request.form)
    except FormRefused as fault:
        return render(_set_up_page(fault.filled, kept_id(request.form, "set_up_id")), 422)
    new = tools.NewSetUp(**form.model_dump(exclude={"set_up_id"}))
    with unit_of_work() as session:
        tools.save_set_up(
            session, actor=signed_in(), set_up_id=form.set_up_id, set_up=new, now=clock()
        )
    return redirect(url_for("workshop.scanned_set_up", set_up_id=form.set_up_id), code=303)


@bp.get("/set-ups/<uuid:set_up_id>")
@requires(Permission.SCAN_LABEL)
def scanned_set_up(set_up_id: UUID) -> ResponseReturnValue:
    """Show the set-up whose label was scanned."""
    row = _set_up(set_up_id)
    facts = (
        Fact(_("Machine"), row.machine),
        Fact(_("Plate"), f"{row.plate_mm} mm"),
        Fact(_("Pad"), row.pad),
        Fact(_("Abrasive"), row.abrasive),
        Fact(_("Dial"), row.dial),
    )
    may_write = signed_in().may(Permission.READ_WORKSHOP)
    return render(
        ScannedSetUpPage(row.label, row.id, facts, _unread(row), _at_panel(row.id), may_write)
    )


def _at_panel(set_up_id: UUID) -> tuple[Listed, ...]:
    """Return the open practicals of who scanned the label that wait for a machine."""
    actor = signed_in()
    waiting = {Stage.TEST_SPOT: _("test spot"), Stage.WORKING: _("working step")}
    found = []
    for trainee, practical in open_at_panel(db(), actor.shop_id, actor.person_id):
        stage = practical.next_stage
        if stage not in waiting and practical.working_steps and practical.after is None:
            stage = Stage.WORKING
        if stage in waiting:
            url = url_for(
                "practicals.stage",
                practical_id=practical.id,
                stage=stage.value,
                set_up=set_up_id,
            )
            found.append(Listed(trainee, url, f"{practical.task.title}, {waiting[stage]}"))
    return tuple(found)


@bp.get("/set-ups/<uuid:set_up_id>/label")
@requires(Permission.READ_WORKSHOP)
def set_up_label(set_up_id: UUID) -> ResponseReturnValue:
    """Show a set-up's label to print."""
    row = _set_up(set_up_id)
    here = url_for("workshop.scanned_set_up", set_up_id=set_up_id)
    address = academy().settings.base_url + here
    lines = (
        f"{row.machine}, {row.plate_mm} mm",
        row.pad,
        row.abrasive,
        _("dial %(dial)s", dial=row.dial),
    )
    return render(LabelPage(row.label, lines, address, qr_svg(address), here))


@bp.get("/workshop/products/new")
@requires(Permission.WRITE_WORKSHOP)
def new_product() -> ResponseReturnValue:
    """Show the form for a product."""
    return render(ProductPage(Filled(), uuid4(), uuid4(), ""))


@bp.post("/workshop/products")
@requires(Permission.WRITE_WORKSHOP)
def add_product() -> ResponseReturnValue:
    """Add a product with its data sheet."""
    try:
        form = ProductForm.of(request.form)
    except FormRefused as fault:
        product_id = kept_id(request.form, "product_id")
        sheet_id = kept_id(request.form, "sheet_id")
        return render(ProductPage(fault.filled, product_id, sheet_id, ""), 422)
    with unit_of_work() as session:
        tools.add_product(
            session, actor=signed_in(), product_id=form.product_id, label=form.label,
            purpose=form.purpose, now=clock(),
        )  # fmt: skip
        session.flush()
        sheet = tools.NewSheet(form.sheet_id, form.product_id, form.revised_on, form.link)
        tools.add_sheet(session, actor=signed_in(), new=sheet, now=clock())
    return redirect(url_for("workshop.sheet", product_id=form.product_id), code=303)


@bp.get("/products/<uuid:product_id>")
@requires(Permission.SCAN_LABEL)
def sheet(product_id: UUID) -> ResponseReturnValue:
    """Show a product and its newest safety data sheet."""
    row = _product(product_id)
    newest = row.sheet
    return render(
        SheetPage(
            row.label,
            product_id,
            row.purpose,
            newest.id if newest else None,
            newest.link if newest else "",
            day_text(newest.revised_on) if newest else "",
            bool(newest and newest.read),
            signed_in().may(Permission.WRITE_WORKSHOP),
        )
    )


@bp.post("/products/<uuid:product_id>/sheets/<uuid:sheet_id>/read")
@requires(Permission.SCAN_LABEL)
def acknowledge_sheet(product_id: UUID, sheet_id: UUID) -> ResponseReturnValue:
    """Note that somebody has read the sheet."""
    with unit_of_work() as session:
        tools.acknowledge_sheet(session, actor=signed_in(), sheet_id=sheet_id, now=clock())
    flash(_("Noted. You are asked again when the sheet is revised."))
    return redirect(url_for("workshop.sheet", product_id=product_id), code=303)


@bp.get("/workshop/products/<uuid:product_id>/sheets/new")
@requires(Permission.WRITE_WORKSHOP)
def new_sheet(product_id: UUID) -> ResponseReturnValue:
    """Show the form for a revision of a data sheet."""
    return render(ProductPage(Filled(), product_id, uuid4(), _product(product_id).label))


@bp.post("/workshop/products/<uuid:product_id>/sheets")
@requires(Permission.WRITE_WORKSHOP)
def add_sheet(product_id: UUID) -> ResponseReturnValue:
    """Add a revision of a data sheet."""
    row = _product(product_id)
    try:
        form = SheetForm.of(request.form)
    except FormRefused as fault:
        sheet_id = kept_id(request.form, "sheet_id")
        return render(ProductPage(fault.filled, product_id, sheet_id, row.label), 422)
    new = tools.NewSheet(form.sheet_id, product_id, form.revised_on, form.link)
    with unit_of_work() as session:
        tools.add_sheet(session, actor=signed_in(), new=new, now=clock())
    return redirect(url_for("workshop.sheet", product_id=product_id), code=303)


def _machine(machine_id: UUID) -> queries.MachineRow:
    found = queries.machines(db(), signed_in().shop_id)
    return next((row for row in found if row.id == machine_id), None) or abort(404)


def _set_up(set_up_id: UUID) -> queries.SetUpRow:
    found = queries.set_up(db(), signed_in().shop_id, set_up_id)
    return found if found is not None else abort(404)


def _product(product_id: UUID) -> queries.ProductRow:
    actor = signed_in()
    found = queries.product(db(), actor.shop_id, actor.person_id, product_id)
    return found if found is not None else abort(404)


def _unread(row: queries.SetUpRow) -> Listed | None:
    """Return the way to a data sheet that this person has to read before using the set-up."""
    if row.product_id is None:
        return None
    product = _product(row.product_id)
    if product.sheet is None or product.sheet.read:
        return None
    url = url_for("workshop.sheet", product_id=product.id)
    says = _("You have not read this revision of its safety data sheet. Read it first.")
    return Listed(product.label, url, says, "caution")


def _machine_page(form: Filled, machine_id: UUID) -> MachinePage:
    return MachinePage(form, machine_id, words.machine_kinds(), words.vibration_sources())


def _set_up_page(form: Filled, set_up_id: UUID) -> SetUpPage:
    actor = signed_in()
    machines = queries.machines(db(), actor.shop_id)
    products = queries.products(db(), actor.shop_id, actor.person_id)
    return SetUpPage(
        form,
        set_up_id,
        tuple(Choosable(str(machine.id), machine.label) for machine in machines),
        tuple(Choosable(str(product.id), product.label) for product in products),
    )
