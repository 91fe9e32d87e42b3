"""Stopping a practical for safety: it ends with a reason and counts for and against nobody."""

from __future__ import annotations

from datetime import datetime
from uuid import UUID

from sqlalchemy.orm import Session

from academy.domain.practical.record import stop
from academy.domain.practical.stages import Stage
from academy.domain.practical.steps import Step, Stopped
from academy.services.actor import Actor
from academy.services.closing import keep_record
from academy.services.practical import add_step
from academy.services.practical_record import FrozenRecord
from academy.services.practical_rows import own_practical


def stop_practical(
    session: Session,
    *,
    actor: Actor,
    practical_id: UUID,
    step_id: UUID,
    body: Stopped,
    now: datetime,
) -> FrozenRecord:
    """Stop at once: no page is too old to stop from, and stopping twice gives the first record.

    Raises
    ------
    NoReasonToStop
        Nothing says why.
    """
    stored = own_practical(session, actor, practical_id)
    if stored.record is not None:
        return stored.record
    step = Step(step_id, Stage.STOPPED, body, now, actor.person_id)
    stopped = stop(stored.practical, step)
    add_step(session, actor.shop_id, stopped, step)
    return keep_record(session, actor, stored, stopped, "practical stopped", now)
