"""The entries of a workshop that can be corrected, and what was corrected of them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from uuid import UUID

from sqlalchemy import select
from sqlalchemy.orm import Session

from academy.domain.workshop.corrections import CORRECTABLE, Corrected, as_written
from academy.store.tables.corrections import WorkshopCorrection
from academy.store.tables.gauge_checks import Foil
from academy.store.tables.people import Person
from academy.store.tables.tools import Machine
from academy.store.tables.workshop import Gauge, Panel

TABLES: Mapping[Corrected, type[Gauge | Foil | Machine | Panel]] = {
    Corrected.GAUGE: Gauge,
    Corrected.FOIL: Foil,
    Corrected.MACHINE: Machine,
    Corrected.PANEL: Panel,
}


@dataclass(frozen=True, slots=True)
class CorrectionRow:
    """One correction."""

    field: str
    before: str
    after: str
    reason: str
    corrected_at: datetime
    corrected_by: str


def present_values(
    session: Session, shop_id: UUID, thing: Corrected, thing_id: UUID
) -> Mapping[str, str] | None:
    """Return what stands in each correctable field of an entry, or None where there is no entry."""
    row = session.get(TABLES[thing], (shop_id, thing_id))
    if row is None:
        return None
    return {field: as_written(getattr(row, field)) for field in CORRECTABLE[thing]}


def corrections(session: Session, shop_id: UUID, thing_id: UUID) -> Sequence[CorrectionRow]:
    """Return the corrections of one entry, newest first."""
    rows = session.execute(
        select(WorkshopCorrection, Person.name)
        .join(Person, Person.id == WorkshopCorrection.corrected_by)
        .where(WorkshopCorrection.shop_id == shop_id, WorkshopCorrection.thing_id == thing_id)
        .order_by(WorkshopCorrection.corrected_at.desc(), WorkshopCorrection.id)
    )
    return [
        CorrectionRow(row.field, row.before, row.after, row.reason, row.corrected_at, name)
        for row, name in rows
    ]
