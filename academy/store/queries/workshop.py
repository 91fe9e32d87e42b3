"""Panels, sections and gauges of a shop."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from uuid import UUID

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from academy.domain.curriculum.kinds import Substrate
from academy.domain.metrology.methods import GaugeMethod
from academy.domain.metrology.verification import Tolerance
from academy.store.tables.workshop import Gauge, Panel, Section


@dataclass(frozen=True, slots=True)
class SectionRow:
    """A section with its panel."""

    id: UUID
    label: str
    spots: int
    panel_id: UUID
    panel_label: str
    substrate: Substrate
    paint_system: str
    sacrificial: bool
    budget_um: Decimal

    @property
    def name(self) -> str:
        """Return the panel and section as one would say them."""
        return f"{self.panel_label}, {self.label}"


@dataclass(frozen=True, slots=True)
class GaugeRow:
    """A gauge."""

    id: UUID
    label: str
    serial: str
    resolution_um: Decimal
    repeatability_um: Decimal
    methods: tuple[GaugeMethod, ...]
    tolerance: Tolerance
    certificate_number: str
    certificate_due_on: date | None


def sections(session: Session, shop_id: UUID) -> Sequence[SectionRow]:
    """Return all sections of a shop by panel and section."""
    rows = session.execute(
        select(
            Section.id,
            Section.label,
            Section.spots,
            Panel.id.label("panel_id"),
            Panel.label.label("panel_label"),
            Panel.substrate,
            Panel.paint_system,
            Panel.sacrificial,
            Section.budget_um,
        )
        .join(Panel, (Panel.shop_id == Section.shop_id) & (Panel.id == Section.panel_id))
        .where(Section.shop_id == shop_id)
        .order_by(Panel.label, Panel.id, func.length(Section.label), Section.label)
    )
    return [SectionRow(*row) for row in rows]


def section(session: Session, shop_id: UUID, section_id: UUID) -> SectionRow | None:
    """Return one section, or None."""
    return next((s for s in sections(session, shop_id) if s.id == section_id), None)


def gauges(session: Session, shop_id: UUID) -> Sequence[GaugeRow]:
    """Return the gauges of a shop by label."""
    rows = session.scalars(
        select(Gauge).where(Gauge.shop_id == shop_id).order_by(Gauge.label, Gauge.id)
    )
    return [_gauge(row) for row in rows]


def gauge(session: Session, shop_id: UUID, gauge_id: UUID) -> GaugeRow | None:
    """Return one gauge, or None."""
    return next((g for g in gauges(session, shop_id) if g.id == gauge_id), None)


def _gauge(row: Gauge) -> GaugeRow:
    return GaugeRow(
        row.id,
        row.label,
        row.serial,
        row.resolution_um,
        row.repeatability_um,
        tuple(GaugeMethod(method) for method in row.methods),
        Tolerance(row.tolerance_um, row.tolerance_percent),
        row.certificate_number,
        row.certificate_due_on,
    )
