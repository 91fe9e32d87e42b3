"""Panels: their map, their label, and the defects prepared on them."""

from __future__ import annotations

from uuid import UUID, uuid4

from flask import abort, flash, redirect, request, url_for
from flask.typing import ResponseReturnValue

from academy.documents.qr import qr_svg
from academy.domain.people import Permission
from academy.domain.workshop.panels import SessionOnSection
from academy.services import panels, workshop
from academy.store.queries import panels as queries
from academy.web.context import academy, clock, db, unit_of_work
from academy.web.formats import length_text, ramp_step
from academy.web.forms import FormRefused, kept_id
from academy.web.identity import requires, signed_in
from academy.web.language import day_text, locale
from academy.web.language import gettext as _
from academy.web.pages import render
from academy.web.parts import (
    Cell,
    Choosable,
    Column,
    Fact,
    Filled,
    PanelSection,
    ReadingsTable,
    Row,
)
from academy.web.times import shop_day
from academy.web.workshop import words
from academy.web.workshop.blueprint import bp
from academy.web.workshop.forms import DefectForm, PanelForm
from academy.web.workshop.pages import DefectPage, LabelPage, PanelMapPage, PanelPage

FRESH = {"spots": "5", "sections": "4", "budget_um": "8", "curvature": "flat"}


@bp.get("/workshop/panels/new")
@requires(Permission.WRITE_WORKSHOP)
def new_panel() -> ResponseReturnValue:
    """Show the form for a panel."""
    return render(_panel_page(Filled(FRESH), uuid4()))


@bp.post("/workshop/panels")
@requires(Permission.WRITE_WORKSHOP)
def add_panel() -> ResponseReturnValue:
    """Add a panel with its sections."""
    try:
        form = PanelForm.of(request.form)
    except FormRefused as fault:
        return render(_panel_page(fault.filled, kept_id(request.form, "panel_id")), 422)
    panel = workshop.NewPanel(**form.model_dump(exclude={"panel_id"}))
    with unit_of_work() as session:
        workshop.add_panel(
            session, actor=signed_in(), panel_id=form.panel_id, panel=panel, now=clock()
        )
    flash(_("The panel %(label)s is in the workshop.", label=form.label))
    return redirect(url_for("workshop.panel_map", panel_id=form.panel_id), code=303)


@bp.get("/panels/<uuid:panel_id>")
@requires(Permission.SCAN_LABEL)
def panel_map(panel_id: UUID) -> ResponseReturnValue:
    """Show what has come off a panel and what is left."""
    panel = _panel(panel_id)
    left = queries.sections_left(db(), signed_in().shop_id, panel_id)
    return render(
        PanelMapPage(
            panel.label,
            panel_id,
            _facts(panel),
            tuple(map(_section_on_map, left)),
            tuple(_sessions_table(one) for one in left if one.sessions),
            tuple((one.section.name, one.section.id, one.defects) for one in left),
            signed_in().may(Permission.WRITE_WORKSHOP),
        )
    )


@bp.get("/panels/<uuid:panel_id>/label")
@requires(Permission.READ_WORKSHOP)
def panel_label(panel_id: UUID) -> ResponseReturnValue:
    """Show a panel's label to print."""
    panel = _panel(panel_id)
    here = url_for("workshop.panel_map", panel_id=panel_id)
    address = academy().settings.base_url + here
    made_of = words.word_of(words.substrates(), panel.substrate)
    lines = (f"{made_of}, {panel.paint_system}", *([panel.colour] if panel.colour else []))
    return render(LabelPage(panel.label, lines, address, qr_svg(address), here))


@bp.get("/workshop/sections/<uuid:section_id>/defects/new")
@requires(Permission.WRITE_WORKSHOP)
def new_defect(section_id: UUID) -> ResponseReturnValue:
    """Show the form for a prepared defect."""
    return render(_defect_page(Filled(), _section(section_id), uuid4()))


@bp.post("/workshop/sections/<uuid:section_id>/defects")
@requires(Permission.WRITE_WORKSHOP)
def prepare_defect(section_id: UUID) -> ResponseReturnValue:
    """Note a prepared defect, with its photograph where one is sent."""
    one = _section(section_id)
    try:
        form = DefectForm.of(request.form)
    except FormRefused as fault:
        page = _defect_page(fault.filled, one, kept_id(request.form, "defect_id"))
        return render(page, 422)
    try:
        digest = _photograph()
    except ValueError as fault:
        filled = Filled(request.form.to_dict(), {"photograph": _(str(fault))})
        return render(_defect_page(filled, one, form.defect_id), 422)
    new = panels.NewDefect(
        form.defect_id, section_id, form.defect, form.how_made, form.severity, digest
    )
    with unit_of_work() as session:
        panels.prepare_defect(session, actor=signed_in(), new=new, now=clock())
    flash(_("%(section)s is prepared.", section=one.section.name))
    return redirect(url_for("workshop.panel_map", panel_id=one.section.panel_id), code=303)


@bp.get("/workshop/defects/<uuid:defect_id>/photograph")
@requires(Permission.SCAN_LABEL)
def defect_photograph(defect_id: UUID) -> ResponseReturnValue:
    """Give the photograph of a prepared defect."""
    digest = queries.defect_photograph(db(), signed_in().shop_id, defect_id)
    if digest is None:
        abort(404)
    try:
        return academy().photographs.read(digest), 200, {"Content-Type": "image/jpeg"}
    except FileNotFoundError:
        abort(404)


def _photograph() -> str | None:
    sent = request.files.get("photograph")
    data = sent.read() if sent else b""
    return academy().photographs.keep(data).digest if data else None


def _panel(panel_id: UUID) -> queries.PanelRow:
    found = queries.panel(db(), signed_in().shop_id, panel_id)
    return found if found is not None else abort(404)


def _section(section_id: UUID) -> queries.SectionLeft:
    found = queries.sections_left(db(), signed_in().shop_id)
    return next((one for one in found if one.section.id == section_id), None) or abort(404)


def _facts(panel: queries.PanelRow) -> tuple[Fact, ...]:
    facts = (
        Fact(_("Made of"), words.word_of(words.substrates(), panel.substrate)),
        Fact(_("Paint"), panel.paint_system),
        Fact(_("Colour"), panel.colour),
        Fact(_("Shape"), words.word_of(words.curvatures(), panel.curvature)),
        Fact(_("Clear coat"), words.word_of(words.clear_coats(), panel.clear_coat)),
        Fact(_("Past"), words.word_of(words.histories(), panel.history)),
        Fact(_("Sacrificial"), _("yes") if panel.sacrificial else ""),
    )
    return tuple(fact for fact in facts if fact.value)


def _section_on_map(one: queries.SectionLeft) -> PanelSection:
    state, budget = one.state, one.section.budget_um
    says = _("left of a budget of %(budget)s µm", budget=budget)
    if state.retired:
        says = _("left: retired, the budget of %(budget)s µm is used", budget=budget)
    elif one.prepared:
        says = _("left of %(budget)s µm; prepared", budget=budget)
    return PanelSection(
        _("Section %(label)s", label=one.section.label),
        length_text(state.left_um, locale=locale()),
        says,
        ramp_step(state.used_um, float(budget)) if state.used_um else 0,
        _practical_here(one),
    )


def _practical_here(one: queries.SectionLeft) -> str:
    """Return where a practical is opened on a section, for who may; a retired one has none."""
    if one.state.retired or not signed_in().may(Permission.ASSESS_PRACTICAL):
        return ""
    return url_for("practicals.choose", section_id=one.section.id)


def _sessions_table(one: queries.SectionLeft) -> ReadingsTable:
    """Return what each session took off at each spot, and the sum."""
    spots = range(one.section.spots)
    return ReadingsTable(
        _("%(section)s: taken off, µm", section=one.section.name),
        (Column(_("Session")), *(Column(_("Spot %(n)s", n=spot + 1)) for spot in spots)),
        tuple(_session_row(session, one.section.spots) for session in one.sessions),
        (Row(_("In all"), tuple(Cell(f"{taken:.1f}") for taken in one.state.spots_um)),),
    )


def _session_row(session: SessionOnSection, spots: int) -> Row:
    read = [Cell(f"{float(removed):.1f}") for removed in session.removed_um[:spots]]
    return Row(day_text(shop_day(session.at)), (*read, *[Cell("–")] * (spots - len(read))))


def _defect_page(form: Filled, one: queries.SectionLeft, defect_id: UUID) -> DefectPage:
    severities = (
        Choosable("1", _("1, light"), _("only seen under the lamp")),
        Choosable("2", _("2, clear"), _("seen in daylight")),
        Choosable("3", _("3, deep"), _("felt with a fingernail")),
    )
    return DefectPage(form, one.section.name, one.section.id, defect_id, severities)


def _panel_page(form: Filled, panel_id: UUID) -> PanelPage:
    return PanelPage(
        form,
        panel_id,
        words.substrates(),
        words.curvatures(),
        words.clear_coats(),
        words.histories(),
    )
