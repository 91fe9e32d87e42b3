"""What was done about readings in doubt."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any
from uuid import UUID

from sqlalchemy import or_, select
from sqlalchemy.orm import Session

from academy.domain.practical.stages import Stage
from academy.domain.workshop.measured_again import Settled
from academy.store.tables.gauge_doubts import DoubtSettlement
from academy.store.tables.people import Person
from academy.store.tables.practicals import Practical, PracticalStep
from academy.store.tables.workshop import Gauge


@dataclass(frozen=True, slots=True)
class SettlementRow:
    """One settlement; ``gauge`` and ``readings`` are there where the section was measured again."""

    way: Settled
    stands: bool
    gauge: str
    readings: tuple[Mapping[str, Any], ...]
    reason: str
    settled_at: datetime
    settled_by: str


@dataclass(frozen=True, slots=True)
class LastWord:
    """The newest settlement that ended a doubt about a practical."""

    settled_at: datetime
    refused: bool


def settlements(session: Session, shop_id: UUID, practical_id: UUID) -> Sequence[SettlementRow]:
    """Return everything that was done about one practical's readings, oldest first."""
    rows = session.execute(
        select(DoubtSettlement, Person.name, Gauge.label)
        .join(Person, Person.id == DoubtSettlement.settled_by)
        .outerjoin(
            Gauge,
            (Gauge.shop_id == DoubtSettlement.shop_id) & (Gauge.id == DoubtSettlement.gauge_id),
        )
        .where(DoubtSettlement.shop_id == shop_id, DoubtSettlement.practical_id == practical_id)
        .order_by(DoubtSettlement.settled_at, DoubtSettlement.id)
    )
    return [
        SettlementRow(
            row.way, row.stands, gauge or "", tuple(row.readings), row.reason, row.settled_at, name
        )
        for row, name, gauge in rows
    ]


def last_words(session: Session, shop_id: UUID) -> Mapping[UUID, LastWord]:
    """Return for each practical of a shop how its newest doubt ended, where one has ended.

    A section that was measured again and differs ends nothing: the owner decides.
    """
    rows = session.execute(
        select(
            DoubtSettlement.practical_id,
            DoubtSettlement.settled_at,
            DoubtSettlement.way == Settled.REFUSED,
        )
        .where(
            DoubtSettlement.shop_id == shop_id,
            or_(DoubtSettlement.way != Settled.MEASURED_AGAIN, DoubtSettlement.stands),
        )
        .order_by(DoubtSettlement.settled_at, DoubtSettlement.id)
    )
    return {practical_id: LastWord(at, bool(refused)) for practical_id, at, refused in rows}


def worked_since(session: Session, shop_id: UUID, section_id: UUID, moment: datetime) -> bool:
    """Return whether paint may have come off a section after a moment."""
    found = session.execute(
        select(PracticalStep.id)
        .join(
            Practical,
            (Practical.shop_id == PracticalStep.shop_id)
            & (Practical.id == PracticalStep.practical_id),
        )
        .where(
            Practical.shop_id == shop_id,
            Practical.section_id == section_id,
            PracticalStep.stage.in_((Stage.WORKING, Stage.TEST_SPOT)),
            PracticalStep.recorded_at > moment,
        )
        .limit(1)
    ).first()
    return found is not None
