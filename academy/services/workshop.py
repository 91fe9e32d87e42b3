"""Panels with their sections, and gauges."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal
from uuid import UUID, uuid4

from sqlalchemy.orm import Session

from academy.domain.curriculum.kinds import Substrate
from academy.domain.metrology.budget import CAP_UM, History
from academy.domain.metrology.methods import GaugeMethod
from academy.domain.people import Permission
from academy.domain.workshop.panels import ClearCoat, Curvature
from academy.services.actor import Actor
from academy.store.tables.workshop import Gauge, Panel, Section


@dataclass(frozen=True, slots=True)
class NewPanel:
    """A practice panel to be added, with its sections of about 45 cm.

    ``budget_um`` is what may come off each section in all.
    """

    label: str
    substrate: Substrate
    paint_system: str
    sections: int
    spots: int
    sacrificial: bool = False
    curvature: Curvature = Curvature.FLAT
    colour: str = ""
    clear_coat: ClearCoat = ClearCoat.UNKNOWN
    history: History = History.UNKNOWN
    budget_um: Decimal = Decimal(CAP_UM)


@dataclass(frozen=True, slots=True)
class NewGauge:
    """A gauge to be added.

    ``repeatability_um`` is the standard deviation of repeated readings at one
    spot in this shop; the difference of two readings rests on it.  The
    tolerance is the one its maker states, an absolute part plus a share.
    """

    label: str
    serial: str
    resolution_um: Decimal
    repeatability_um: Decimal
    methods: tuple[GaugeMethod, ...] = (GaugeMethod.MAGNETIC, GaugeMethod.EDDY_CURRENT)
    tolerance_um: Decimal = Decimal(1)
    tolerance_percent: Decimal = Decimal(1)
    certificate_number: str = ""
    certificate_due_on: date | None = None


def add_panel(
    session: Session, *, actor: Actor, panel_id: UUID, panel: NewPanel, now: datetime
) -> UUID:
    """Add a panel with its sections; a known id is answered and not doubled."""
    actor.require(Permission.WRITE_WORKSHOP)
    if session.get(Panel, (actor.shop_id, panel_id)) is not None:
        return panel_id
    session.add(
        Panel(
            shop_id=actor.shop_id,
            id=panel_id,
            label=panel.label,
            substrate=panel.substrate,
            paint_system=panel.paint_system,
            sacrificial=panel.sacrificial,
            curvature=panel.curvature,
            colour=panel.colour,
            clear_coat=panel.clear_coat,
            history=panel.history,
            created_at=now,
        )
    )
    session.flush()
    session.add_all(
        Section(
            shop_id=actor.shop_id,
            id=uuid4(),
            panel_id=panel_id,
            label=str(number),
            spots=panel.spots,
            budget_um=panel.budget_um,
        )
        for number in range(1, panel.sections + 1)
    )
    return panel_id


def add_gauge(
    session: Session, *, actor: Actor, gauge_id: UUID, gauge: NewGauge, now: datetime
) -> UUID:
    """Add a gauge; a known id is answered and not doubled."""
    actor.require(Permission.WRITE_WORKSHOP)
    if session.get(Gauge, (actor.shop_id, gauge_id)) is None:
        session.add(
            Gauge(
                shop_id=actor.shop_id,
                id=gauge_id,
                label=gauge.label,
                serial=gauge.serial,
                resolution_um=gauge.resolution_um,
                repeatability_um=gauge.repeatability_um,
                methods=[method.value for method in gauge.methods],
                tolerance_um=gauge.tolerance_um,
                tolerance_percent=gauge.tolerance_percent,
                certificate_number=gauge.certificate_number,
                certificate_due_on=gauge.certificate_due_on,
                created_at=now,
            )
        )
    return gauge_id
