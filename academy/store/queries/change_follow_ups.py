"""The one thing to change of each talk, and what was said of it later."""

from __future__ import annotations

from collections.abc import Sequence
from uuid import UUID

from sqlalchemy import select
from sqlalchemy.orm import Session

from academy.domain.practical.stages import Stage
from academy.domain.practical.talks import ChangeAsked, ChangeLookedFor
from academy.store.tables.logbook import ChangeFollowUp
from academy.store.tables.practicals import Practical, PracticalStep


def changes_asked(session: Session, shop_id: UUID, person_id: UUID) -> Sequence[ChangeAsked]:
    """Return the one thing to change of each of a trainee's closed practicals, oldest first."""
    rows = session.execute(
        select(Practical.id, Practical.closed_at, PracticalStep.body)
        .join(
            PracticalStep,
            (PracticalStep.shop_id == Practical.shop_id)
            & (PracticalStep.practical_id == Practical.id),
        )
        .where(
            Practical.shop_id == shop_id,
            Practical.trainee_id == person_id,
            Practical.closed_at.is_not(None),
            PracticalStep.stage == Stage.TALK,
        )
        .order_by(Practical.closed_at, PracticalStep.number)
    )
    # a later talk of the same practical takes the place of an earlier one
    asked = {row.id: ChangeAsked(row.id, row.closed_at, row.body["change_next"]) for row in rows}
    return tuple(asked.values())


def looked_for(session: Session, shop_id: UUID, person_id: UUID) -> Sequence[ChangeLookedFor]:
    """Return what was said about a trainee's changes, oldest first."""
    rows = session.execute(
        select(
            ChangeFollowUp.asked_in,
            ChangeFollowUp.seen_in,
            ChangeFollowUp.seen,
            ChangeFollowUp.said_at,
        )
        .join(
            Practical,
            (Practical.shop_id == ChangeFollowUp.shop_id)
            & (Practical.id == ChangeFollowUp.asked_in),
        )
        .where(ChangeFollowUp.shop_id == shop_id, Practical.trainee_id == person_id)
        .order_by(ChangeFollowUp.said_at, ChangeFollowUp.id)
    )
    return [ChangeLookedFor(*row) for row in rows]
