"""Loading a practical to change it: its row is locked until the transaction ends."""

from __future__ import annotations

from uuid import UUID

from sqlalchemy import select
from sqlalchemy.orm import Session

from academy.domain.people import Permission
from academy.services.actor import Actor, NotAllowed, NotFound
from academy.store.queries.practicals import StoredPractical, stored_practical
from academy.store.tables.practicals import Practical as PracticalRow


def own_practical(session: Session, actor: Actor, practical_id: UUID) -> StoredPractical:
    """Return a practical for the supervisor who stands at its panel."""
    actor.require(Permission.ASSESS_PRACTICAL)
    stored = locked_practical(session, actor, practical_id)
    if stored.practical.supervisor_id != actor.person_id:
        raise NotAllowed()
    return stored


def locked_practical(session: Session, actor: Actor, practical_id: UUID) -> StoredPractical:
    """Return a practical of the shop with its row locked, or raise NotFound."""
    session.execute(
        select(PracticalRow.id)
        .where(PracticalRow.shop_id == actor.shop_id, PracticalRow.id == practical_id)
        .with_for_update()
    )
    stored = stored_practical(session, actor.shop_id, practical_id)
    if stored is None:
        raise NotFound()
    return stored
