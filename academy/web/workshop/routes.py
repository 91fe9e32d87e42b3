"""Panels, sections and gauges."""

from __future__ import annotations

from uuid import uuid4

from flask import Blueprint, flash, redirect, request, url_for
from flask.typing import ResponseReturnValue

from academy.domain.curriculum.kinds import Substrate
from academy.domain.people import Permission
from academy.services import workshop
from academy.store.queries import workshop as queries
from academy.web.context import clock, db, unit_of_work
from academy.web.forms import FormRefused, kept_id
from academy.web.identity import requires, signed_in
from academy.web.language import gettext as _
from academy.web.pages import render
from academy.web.parts import Choosable, Filled
from academy.web.workshop.forms import GaugeForm, PanelForm
from academy.web.workshop.pages import GaugePage, PanelPage, WorkshopPage

bp = Blueprint("workshop", __name__, url_prefix="/workshop")


@bp.get("/")
@requires(Permission.READ_WORKSHOP)
def overview() -> ResponseReturnValue:
    """Show panels, sections and gauges."""
    shop_id = signed_in().shop_id
    return render(
        WorkshopPage(
            sections=tuple(queries.sections(db(), shop_id)),
            gauges=tuple(queries.gauges(db(), shop_id)),
        )
    )


@bp.get("/panels/new")
@requires(Permission.WRITE_WORKSHOP)
def new_panel() -> ResponseReturnValue:
    """Show the form for a panel."""
    return render(PanelPage(Filled({"spots": "5", "sections": "4"}), uuid4(), _substrates()))


@bp.post("/panels")
@requires(Permission.WRITE_WORKSHOP)
def add_panel() -> ResponseReturnValue:
    """Add a panel with its sections."""
    try:
        form = PanelForm.of(request.form)
    except FormRefused as fault:
        page = PanelPage(fault.filled, kept_id(request.form, "panel_id"), _substrates())
        return render(page, 422)
    panel = workshop.NewPanel(
        form.label,
        form.substrate,
        form.paint_system,
        form.sections,
        form.spots,
        form.sacrificial,
    )
    with unit_of_work() as session:
        workshop.add_panel(
            session, actor=signed_in(), panel_id=form.panel_id, panel=panel, now=clock()
        )
    flash(_("The panel %(label)s is in the workshop.", label=form.label))
    return redirect(url_for("workshop.overview"), code=303)


@bp.get("/gauges/new")
@requires(Permission.WRITE_WORKSHOP)
def new_gauge() -> ResponseReturnValue:
    """Show the form for a gauge."""
    return render(GaugePage(Filled(), uuid4()))


@bp.post("/gauges")
@requires(Permission.WRITE_WORKSHOP)
def add_gauge() -> ResponseReturnValue:
    """Add a gauge."""
    try:
        form = GaugeForm.of(request.form)
    except FormRefused as fault:
        return render(GaugePage(fault.filled, kept_id(request.form, "gauge_id")), 422)
    gauge = workshop.NewGauge(form.label, form.serial, form.resolution_um, form.repeatability_um)
    with unit_of_work() as session:
        workshop.add_gauge(
            session, actor=signed_in(), gauge_id=form.gauge_id, gauge=gauge, now=clock()
        )
    flash(_("The gauge %(label)s is in the workshop.", label=form.label))
    return redirect(url_for("workshop.overview"), code=303)


def _substrates() -> tuple[Choosable, ...]:
    return (
        Choosable(Substrate.STEEL, _("steel")),
        Choosable(Substrate.ALUMINIUM, _("aluminium")),
        Choosable(Substrate.PLASTIC, _("plastic"), _("no gauge here reads paint on plastic")),
    )
