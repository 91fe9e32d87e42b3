"""The workshop at a glance: what to do first, panels, gauges, machines, products."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from flask import url_for
from flask.typing import ResponseReturnValue

from academy.domain.people import Permission
from academy.domain.workshop.panels import SectionNeed, sections_for
from academy.services.gauges import suspect_practicals
from academy.store.queries.gauges import FoilRow, foils
from academy.store.queries.panels import SectionLeft, sections_left
from academy.store.queries.tools import MachineRow, ProductRow, machines, products, set_ups
from academy.store.queries.workshop import gauges
from academy.web.context import course, db
from academy.web.doubts import suspect_line
from academy.web.formats import sentence_text
from academy.web.identity import requires, signed_in
from academy.web.language import day_text
from academy.web.language import gettext as _
from academy.web.pages import render
from academy.web.parts import Cell, Column, Listed, ReadingsTable, Row
from academy.web.times import today
from academy.web.workshop.blueprint import bp
from academy.web.workshop.gauges import gauge_states
from academy.web.workshop.pages import WorkshopPage
from academy.web.workshop.words import machine_kinds, word_of


@bp.get("/workshop/")
@requires(Permission.READ_WORKSHOP)
def overview() -> ResponseReturnValue:
    """Show what stands in the workshop and what to do first."""
    actor = signed_in()
    left = sections_left(db(), actor.shop_id)
    rows = gauges(db(), actor.shop_id)
    known = products(db(), actor.shop_id, actor.person_id)
    return render(
        WorkshopPage(
            tuple(state for row in rows for state in gauge_states(row) if state.sign != "valid"),
            tuple(map(suspect_line, suspect_practicals(db(), actor.shop_id))),
            _panels(left),
            _tasks(left),
            tuple(_gauge_line(row.label, row.id, row.certificate_due_on) for row in rows),
            tuple(map(_foil_line, foils(db(), actor.shop_id))),
            tuple(map(_machine_line, machines(db(), actor.shop_id))),
            tuple(
                Listed(
                    row.label,
                    url_for("workshop.scanned_set_up", set_up_id=row.id),
                    f"{row.machine}, {row.pad}, {row.abrasive}, {row.dial}",
                )
                for row in set_ups(db(), actor.shop_id)
            ),
            tuple(map(_product_line, known)),
            actor.may(Permission.WRITE_SETTINGS),
        )
    )


def _panels(left: Sequence[SectionLeft]) -> tuple[Listed, ...]:
    by_panel: dict[object, list[SectionLeft]] = {}
    for one in left:
        by_panel.setdefault(one.section.panel_id, []).append(one)
    return tuple(_panel_line(found) for found in by_panel.values())


def _panel_line(found: list[SectionLeft]) -> Listed:
    first = found[0].section
    retired = sum(one.state.retired for one in found)
    says = _(
        "%(substrate)s, %(paint)s: %(left)s of %(all)s sections left",
        substrate=_(first.substrate),
        paint=first.paint_system,
        left=len(found) - retired,
        all=len(found),
    )
    if first.sacrificial:
        says = f"{says}, {_('sacrificial')}"
    return Listed(first.panel_label, url_for("workshop.panel_map", panel_id=first.panel_id), says)


def _tasks(left: Sequence[SectionLeft]) -> ReadingsTable | None:
    """Return for each task how many sections are left and what to prepare next."""
    worked = [one.worked() for one in left]
    found = [
        sections_for(
            SectionNeed(task.title, tuple(task.substrates), task.spots, task.limit_um), worked
        )
        for task in course().tasks
        if task.spots
    ]
    if not found:
        return None
    return ReadingsTable(
        _("Sections left for each task"),
        (
            Column(_("Task")),
            Column(_("Left")),
            Column(_("Prepared")),
            Column(_("Next"), words=True),
        ),
        tuple(
            Row(
                one.title,
                (Cell(str(one.left)), Cell(str(one.ready)), Cell(sentence_text(one.advice))),
            )
            for one in found
        ),
    )


def _gauge_line(label: str, gauge_id: object, due: date | None) -> Listed:
    url = url_for("workshop.gauge_history", gauge_id=gauge_id)
    if due is None:
        return Listed(label, url, _("no calibration date noted"))
    if due < today():
        return Listed(label, url, _("calibration was due on %(day)s", day=day_text(due)), "caution")
    return Listed(label, url, _("calibration due on %(day)s", day=day_text(due)))


def _foil_line(row: FoilRow) -> Listed:
    url = url_for("workshop.entry", thing="foil", thing_id=row.id)
    says, due = _("certified %(um)s µm", um=row.certified_um), row.certificate_due_on
    if due is not None and due < today():
        late = _("its certificate was due on %(day)s", day=day_text(due))
        return Listed(row.label, url, f"{says}, {late}", "caution")
    return Listed(row.label, url, says)


def _machine_line(row: MachineRow) -> Listed:
    parts = [word_of(machine_kinds(), row.kind), _("plate %(mm)s mm", mm=row.plate_mm)]
    if row.throw_mm is not None:
        parts.append(_("throw %(mm)s mm", mm=row.throw_mm))
    if row.vibration_m_s2 is not None:
        parts.append(_vibration(row))
    sign = ""
    if row.check_due_on is None:
        parts.append(_("no electrical check noted"))
    elif row.check_due_on < today():
        sign = "caution"
        parts.append(_("electrical check was due on %(day)s", day=day_text(row.check_due_on)))
    else:
        parts.append(_("electrical check due on %(day)s", day=day_text(row.check_due_on)))
    url = url_for("workshop.electrical_check", machine_id=row.id)
    return Listed(row.label, url, ", ".join(parts), sign)


def _vibration(row: MachineRow) -> str:
    if row.vibration_uncertainty_m_s2 is None:
        return _(
            "vibration %(value)s m/s², %(source)s",
            value=row.vibration_m_s2,
            source=_(row.vibration_source),
        )
    return _(
        "vibration %(value)s ± %(uncertainty)s m/s², %(source)s",
        value=row.vibration_m_s2,
        uncertainty=row.vibration_uncertainty_m_s2,
        source=_(row.vibration_source),
    )


def _product_line(row: ProductRow) -> Listed:
    url = url_for("workshop.sheet", product_id=row.id)
    if row.sheet is None:
        return Listed(row.label, url, _("no safety data sheet yet"), "caution")
    if row.sheet.read:
        return Listed(row.label, url, _("you have read its safety data sheet"), "valid")
    return Listed(row.label, url, _("read its safety data sheet"), "caution")
