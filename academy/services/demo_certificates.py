"""The demonstration's decisions: what its owner has decided, and what still waits."""

from __future__ import annotations

from collections.abc import Collection
from datetime import datetime
from uuid import UUID, uuid4

from sqlalchemy.orm import Session

from academy.domain.curriculum.course import Course
from academy.services.actor import Actor, Proof
from academy.services.certificates import NewDecision, decide
from academy.services.standing import standings_today


def decide_what_is_ready(
    session: Session,
    *,
    owner: Actor,
    person_id: UUID,
    course: Course,
    but: Collection[str] = (),
    now: datetime,
) -> None:
    """Let the owner decide on everything a person has the evidence for, some schemes left out."""
    today = standings_today(
        session, shop_id=owner.shop_id, person_id=person_id, course=course, rows=(), now=now
    )
    for scheme_id, known in today.items():
        if known.ready_for is None or scheme_id in but:
            continue
        new = NewDecision(uuid4(), person_id, scheme_id, known.ready_for, grant=True)
        proof = Proof(owner.person_id, now)
        decide(session, actor=owner, new=new, proof=proof, course=course, now=now)
