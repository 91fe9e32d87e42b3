"""Panels, sections and gauges of a shop."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from uuid import UUID

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from academy.domain.curriculum.kinds import Substrate
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
    rows = session.execute(
        select(Gauge.id, Gauge.label, Gauge.serial, Gauge.resolution_um, Gauge.repeatability_um)
        .where(Gauge.shop_id == shop_id)
        .order_by(Gauge.label, Gauge.id)
    )
    return [GaugeRow(*row) for row in rows]


def gauge(session: Session, shop_id: UUID, gauge_id: UUID) -> GaugeRow | None:
    """Return one gauge, or None."""
    return next((g for g in gauges(session, shop_id) if g.id == gauge_id), None)
