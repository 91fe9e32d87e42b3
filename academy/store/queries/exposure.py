"""Time at machines: what was stated, and the working steps of practicals."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal
from typing import Any
from uuid import UUID

from sqlalchemy import or_, select
from sqlalchemy.orm import Session, aliased

from academy.domain.practical.stages import Stage
from academy.store.tables.logbook import ToolTime
from academy.store.tables.people import Person
from academy.store.tables.practicals import Practical, PracticalStep


@dataclass(frozen=True, slots=True)
class ToolTimeRow:
    """Time that somebody stated; without ``entry_id`` it is of the day before the session."""

    id: UUID
    person_id: UUID
    worked_on: date
    entry_id: UUID | None
    machine_id: UUID | None
    says: str
    seconds: int
    vibration_m_s2: Decimal | None
    vibration_uncertainty_m_s2: Decimal | None
    stated_by_name: str
    stated_at: datetime
    reason: str


@dataclass(frozen=True, slots=True)
class WorkedStepRow:
    """One working step of a practical, as stored."""

    practical_id: UUID
    trainee_id: UUID
    body: dict[str, Any]
    recorded_at: datetime


def tool_times(
    session: Session, shop_id: UUID, person_id: UUID, day: date
) -> Sequence[ToolTimeRow]:
    """Return what stands of a person's stated time on one day, in the order stated."""
    later = aliased(ToolTime)
    rows = session.execute(
        select(ToolTime, Person.name)
        .join(Person, Person.id == ToolTime.stated_by)
        .outerjoin(
            later, (later.shop_id == ToolTime.shop_id) & (later.supersedes_id == ToolTime.id)
        )
        .where(
            ToolTime.shop_id == shop_id,
            ToolTime.person_id == person_id,
            ToolTime.worked_on == day,
            later.id.is_(None),
        )
        .order_by(ToolTime.stated_at, ToolTime.id)
    )
    return [_row(stored, name) for stored, name in rows]


def tool_time(session: Session, shop_id: UUID, tool_time_id: UUID) -> ToolTimeRow | None:
    """Return one statement, or None."""
    found = session.execute(
        select(ToolTime, Person.name)
        .join(Person, Person.id == ToolTime.stated_by)
        .where(ToolTime.shop_id == shop_id, ToolTime.id == tool_time_id)
    ).one_or_none()
    return _row(*found) if found else None


def worked_steps(
    session: Session, shop_id: UUID, person_id: UUID, begins: datetime, ends: datetime
) -> Sequence[WorkedStepRow]:
    """Return test spots and working steps between two moments, of a trainee or beside one."""
    rows = session.execute(
        select(
            Practical.id,
            Practical.trainee_id,
            PracticalStep.stage,
            PracticalStep.body,
            PracticalStep.recorded_at,
        )
        .join(
            PracticalStep,
            (PracticalStep.shop_id == Practical.shop_id)
            & (PracticalStep.practical_id == Practical.id),
        )
        .where(
            Practical.shop_id == shop_id,
            or_(Practical.trainee_id == person_id, Practical.supervisor_id == person_id),
            PracticalStep.stage.in_((Stage.TEST_SPOT, Stage.WORKING)),
            PracticalStep.recorded_at >= begins,
            PracticalStep.recorded_at < ends,
        )
        .order_by(PracticalStep.recorded_at, PracticalStep.id)
    )
    return [_worked(*row) for row in rows]


def _worked(
    practical_id: UUID,
    trainee_id: UUID,
    stage: Stage,
    body: dict[str, Any],
    recorded_at: datetime,
) -> WorkedStepRow:
    """Return a step with the machine work in it; a test spot holds it beside what it showed."""
    work = body["step"] if stage is Stage.TEST_SPOT else body
    return WorkedStepRow(practical_id, trainee_id, work, recorded_at)


def _row(stored: ToolTime, name: str) -> ToolTimeRow:
    return ToolTimeRow(
        stored.id,
        stored.person_id,
        stored.worked_on,
        stored.entry_id,
        stored.machine_id,
        stored.says,
        stored.seconds,
        stored.vibration_m_s2,
        stored.vibration_uncertainty_m_s2,
        name,
        stored.stated_at,
        stored.reason,
    )
