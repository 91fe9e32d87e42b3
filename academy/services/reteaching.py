"""A practical that was not yet competent opens a re-teach plan; the plan is carried out before it is assessed again."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime
from uuid import UUID, uuid4

from sqlalchemy import select
from sqlalchemy.orm import Session

from academy.domain.people import Permission, Role
from academy.domain.practical.outcome import Judged, Outcome
from academy.domain.practical.record import Practical
from academy.domain.practical.reteaching import (
    DUE_IN,
    PlanIsDone,
    refuse_untaught,
    what_was_missed,
)
from academy.domain.practical.stages import PracticalKind
from academy.domain.sentences import TradeError
from academy.services import journal
from academy.services.actor import Actor, NotFound
from academy.services.shop_clock import today_in_shop
from academy.store.queries.people import member
from academy.store.queries.reteaching import plans
from academy.store.tables.judgement import ReteachPlan


@dataclass(eq=False)
class NotASupervisor(TradeError):
    """Only a supervisor coaches."""

    template = "Choose a supervisor of this shop who teaches it again"


@dataclass(eq=False)
class DayHasPassed(TradeError):
    """A plan is for a day to come."""

    template = "Choose a day that has not passed"


@dataclass(frozen=True, slots=True)
class PlanChange:
    """What is to be reached, with which drill, with whom, and by when."""

    objective: str
    drill_id: str
    responsible_id: UUID
    due_on: date


def open_plan(
    session: Session, actor: Actor, practical: Practical, outcome: Judged, now: datetime
) -> None:
    """Open the plan of an assessed practical that was not yet competent; it is opened once."""
    if practical.kind is not PracticalKind.ASSESSED or outcome.outcome is not Outcome.NOT_YET:
        return
    if _plan(session, actor.shop_id, practical.id) is not None:
        return
    today = today_in_shop(session, actor.shop_id, now)
    session.add(
        ReteachPlan(
            shop_id=actor.shop_id,
            id=uuid4(),
            practical_id=practical.id,
            trainee_id=practical.trainee_id,
            task_id=practical.task.id,
            objective=what_was_missed(outcome),
            drill_id=practical.talk.next_drill if practical.talk else "",
            responsible_id=practical.supervisor_id,
            due_on=today + DUE_IN,
            made_at=now,
            made_by=actor.person_id,
        )
    )
    session.flush()


def change_plan(
    session: Session, *, actor: Actor, practical_id: UUID, change: PlanChange, now: datetime
) -> None:
    """Change a plan that has not been carried out; the journal keeps that it was changed.

    Raises
    ------
    NotFound, PlanIsDone, NotASupervisor, DayHasPassed
        Nothing is changed.
    """
    actor.require(Permission.ASSESS_PRACTICAL)
    known = plans(session, actor.shop_id, practical_id=practical_id)
    plan = _plan(session, actor.shop_id, practical_id)
    if not known or plan is None:
        raise NotFound()
    if known[0].coached_at is not None:
        raise PlanIsDone()
    _refuse_change(session, actor, change, now)
    plan.objective, plan.drill_id = change.objective, change.drill_id
    plan.responsible_id, plan.due_on = change.responsible_id, change.due_on
    plan.changed_at, plan.changed_by = now, actor.person_id
    session.flush()
    journal.append(
        session,
        shop_id=actor.shop_id,
        actor_id=actor.person_id,
        kind="re-teach plan changed",
        body={
            "practical": str(practical_id),
            "responsible": str(change.responsible_id),
            "due_on": change.due_on.isoformat(),
        },
        at=now,
    )


def refuse_before_reteaching(
    session: Session, shop_id: UUID, trainee_id: UUID, task_id: str
) -> None:
    """Raise ReteachFirst where an assessed practical comes before the coached one."""
    refuse_untaught([row.reteaching for row in plans(session, shop_id, trainee_id, task_id)])


def _refuse_change(session: Session, actor: Actor, change: PlanChange, now: datetime) -> None:
    responsible = member(session, actor.shop_id, change.responsible_id)
    if responsible is None or Role.SUPERVISOR not in responsible.roles:
        raise NotASupervisor()
    if change.due_on < today_in_shop(session, actor.shop_id, now):
        raise DayHasPassed()


def _plan(session: Session, shop_id: UUID, practical_id: UUID) -> ReteachPlan | None:
    return session.scalars(
        select(ReteachPlan).where(
            ReteachPlan.shop_id == shop_id, ReteachPlan.practical_id == practical_id
        )
    ).one_or_none()
