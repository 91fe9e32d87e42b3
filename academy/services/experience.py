"""Prior experience: lessons may be skipped on it; nothing that decides may."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime
from uuid import UUID

from sqlalchemy.orm import Session

from academy.domain.people import Permission, refuse_own_practical
from academy.services import journal
from academy.services.actor import Actor, NotFound
from academy.store.queries.people import member
from academy.store.tables.examinations import PriorExperience


def record_experience(
    session: Session,
    *,
    actor: Actor,
    experience_id: UUID,
    person_id: UUID,
    modules: Sequence[str],
    statement: str,
    now: datetime,
) -> None:
    """Record what experience a person states; a known id is answered and not doubled.

    The lessons of the modules need not be read first.  Quizzes, what must be
    known, examinations and assessed practicals are asked all the same.
    """
    actor.require(Permission.ASSESS_PRACTICAL)
    refuse_own_practical(actor.person_id, person_id)
    if member(session, actor.shop_id, person_id) is None:
        raise NotFound()
    if session.get(PriorExperience, (actor.shop_id, experience_id)) is not None:
        return
    session.add(
        PriorExperience(
            shop_id=actor.shop_id,
            id=experience_id,
            person_id=person_id,
            modules=sorted(set(modules)),
            statement=statement,
            recorded_by=actor.person_id,
            recorded_at=now,
        )
    )
    journal.append(
        session,
        shop_id=actor.shop_id,
        actor_id=actor.person_id,
        kind="experience recorded",
        body={"person": str(person_id), "modules": sorted(set(modules))},
        at=now,
    )
