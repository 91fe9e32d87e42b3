"""Questions that were questioned, and the wordings that were voided."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any
from uuid import UUID

from sqlalchemy import Select, select
from sqlalchemy.orm import Session

from academy.store.tables.examinations import Dispute
from academy.store.tables.people import Person


@dataclass(frozen=True, slots=True)
class DisputeRow:
    """One question that was questioned."""

    id: UUID
    sitting_id: UUID
    question_id: str
    question_digest: str
    raised_by: UUID
    raised_by_name: str
    raised_at: datetime
    reason: str
    decided_by: UUID | None
    decided_at: datetime | None
    voided: bool | None
    decision: str | None


def disputes(
    session: Session,
    shop_id: UUID,
    dispute_id: UUID | None = None,
    sitting_id: UUID | None = None,
) -> Sequence[DisputeRow]:
    """Return the questions that were questioned, open ones first."""
    query: Select[*tuple[Any, ...]] = (
        select(
            Dispute.id,
            Dispute.sitting_id,
            Dispute.question_id,
            Dispute.question_digest,
            Dispute.raised_by,
            Person.name,
            Dispute.raised_at,
            Dispute.reason,
            Dispute.decided_by,
            Dispute.decided_at,
            Dispute.voided,
            Dispute.decision,
        )
        .join(Person, Person.id == Dispute.raised_by)
        .where(Dispute.shop_id == shop_id)
        .order_by(Dispute.decided_at.is_not(None), Dispute.raised_at)
    )
    if dispute_id is not None:
        query = query.where(Dispute.id == dispute_id)
    if sitting_id is not None:
        query = query.where(Dispute.sitting_id == sitting_id)
    return [DisputeRow(*row) for row in session.execute(query)]


def voided_digests(session: Session, shop_id: UUID) -> frozenset[str]:
    """Return the wordings of questions that were voided in a shop."""
    return frozenset(
        session.scalars(
            select(Dispute.question_digest).where(
                Dispute.shop_id == shop_id, Dispute.voided.is_(True)
            )
        )
    )
