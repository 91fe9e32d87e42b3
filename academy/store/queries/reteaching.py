"""Re-teach plans, and whether each has been carried out."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime
from uuid import UUID

from sqlalchemy import select
from sqlalchemy.orm import Session, aliased

from academy.domain.practical.counting import ObjectionState
from academy.domain.practical.outcome import Outcome
from academy.domain.practical.reteaching import Reteaching
from academy.domain.practical.stages import PracticalKind
from academy.store.tables.judgement import Objection, ReteachPlan
from academy.store.tables.people import Person
from academy.store.tables.practicals import Practical, SignedRecord


@dataclass(frozen=True, slots=True)
class PlanRow:
    """One plan with its people by name; ``coached_at`` is when it was taught again."""

    practical_id: UUID
    trainee_id: UUID
    trainee_name: str
    task_id: str
    task_title: str
    objective: str
    drill_id: str
    responsible_id: UUID
    responsible_name: str
    due_on: date
    made_at: datetime
    coached_at: datetime | None

    @property
    def reteaching(self) -> Reteaching:
        """Return what decides whether the task may be assessed again."""
        return Reteaching(
            self.practical_id, self.task_title, self.responsible_name, self.due_on, self.made_at,
            self.coached_at,
        )  # fmt: skip


def plans(
    session: Session,
    shop_id: UUID,
    trainee_id: UUID | None = None,
    task_id: str | None = None,
    practical_id: UUID | None = None,
) -> Sequence[PlanRow]:
    """Return the plans of a shop whose practical still stands as not yet competent, oldest first."""
    trainee, responsible = aliased(Person), aliased(Person)
    query = (
        select(ReteachPlan, trainee.name, responsible.name, Practical.task)
        .join(trainee, trainee.id == ReteachPlan.trainee_id)
        .join(responsible, responsible.id == ReteachPlan.responsible_id)
        .join(
            Practical,
            (Practical.shop_id == ReteachPlan.shop_id) & (Practical.id == ReteachPlan.practical_id),
        )
        .where(ReteachPlan.shop_id == shop_id)
        .order_by(ReteachPlan.made_at, ReteachPlan.id)
    )
    for column, wanted in (
        (ReteachPlan.trainee_id, trainee_id),
        (ReteachPlan.task_id, task_id),
        (ReteachPlan.practical_id, practical_id),
    ):
        if wanted is not None:
            query = query.where(column == wanted)
    rows = session.execute(query).all()
    return [
        PlanRow(
            plan.practical_id, plan.trainee_id, trainee_name, plan.task_id, task["task"]["title"],
            plan.objective, plan.drill_id, plan.responsible_id, responsible_name, plan.due_on,
            plan.made_at, _coached_since(session, plan),
        )
        for plan, trainee_name, responsible_name, task in rows
        if _still_stands(session, plan)
    ]  # fmt: skip


def _still_stands(session: Session, plan: ReteachPlan) -> bool:
    """Return whether the newest record of the practical says not yet competent and was not set aside."""
    row = session.execute(
        select(SignedRecord.record, Objection.state)
        .outerjoin(
            Objection,
            (Objection.shop_id == SignedRecord.shop_id) & (Objection.record_id == SignedRecord.id),
        )
        .where(SignedRecord.shop_id == plan.shop_id, SignedRecord.practical_id == plan.practical_id)
        .order_by(SignedRecord.frozen_at.desc())
        .limit(1)
    ).one()
    return row.record["outcome"] == Outcome.NOT_YET and row.state is not ObjectionState.SET_ASIDE


def _coached_since(session: Session, plan: ReteachPlan) -> datetime | None:
    """Return when a coached practical of the task was first closed after the plan was made."""
    rows = session.execute(
        select(Practical.closed_at, SignedRecord.record)
        .join(
            SignedRecord,
            (SignedRecord.shop_id == Practical.shop_id)
            & (SignedRecord.practical_id == Practical.id),
        )
        .where(
            Practical.shop_id == plan.shop_id,
            Practical.trainee_id == plan.trainee_id,
            Practical.task_id == plan.task_id,
            Practical.kind == PracticalKind.COACHED,
            Practical.closed_at > plan.made_at,
        )
        .order_by(Practical.closed_at)
    )
    return next((at for at, record in rows if record["outcome"] != Outcome.STOPPED), None)
