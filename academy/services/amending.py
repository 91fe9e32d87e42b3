"""An amendment supersedes a closed record; both stay readable, and both people sign again."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import datetime
from uuid import UUID, uuid4

from sqlalchemy.orm import Session

from academy.domain.people import Permission, Role
from academy.domain.practical.amendments import (
    NotYoursToAmend,
    ReasonForAmendment,
    RecordHasChanged,
    amended,
    may_amend,
)
from academy.domain.practical.record import Practical
from academy.domain.practical.refusals import PracticalIsOpen
from academy.domain.practical.stages import Stage
from academy.domain.practical.steps import Judgement, Step, StepBody, Talk
from academy.services.actor import Actor
from academy.services.closing import keep_record
from academy.services.practical import add_step
from academy.services.practical_record import FrozenRecord, Superseding
from academy.services.practical_rows import locked_practical
from academy.store.queries.people import member
from academy.store.queries.practicals import StoredPractical
from academy.store.tables.judgement import Amendment


@dataclass(frozen=True, slots=True)
class NewAmendment:
    """What is said instead, why, and the digest of the record the page showed.

    ``id`` is the amendment's own: sent twice, it is answered and not doubled.
    """

    id: UUID
    digest: str
    judgement: Judgement
    talk: Talk
    reason: str


def amend_practical(
    session: Session, *, actor: Actor, practical_id: UUID, new: NewAmendment, now: datetime
) -> FrozenRecord:
    """Supersede the newest record by one that judges or says otherwise.

    Until whoever amended it signs, the record before it stands.

    Raises
    ------
    NotYoursToAmend, ReasonForAmendment, RecordHasChanged, NothingAmended, PracticalIsOpen
        Nothing is written.
    """
    actor.require(Permission.AMEND_PRACTICAL)
    stored = locked_practical(session, actor, practical_id)
    if stored.record is None:
        raise PracticalIsOpen()
    if any(step.id == new.id for step in stored.practical.steps):
        return stored.record
    if not amends(session, actor, stored):
        raise NotYoursToAmend()
    if not new.reason.strip():
        raise ReasonForAmendment()
    if new.digest != stored.record.digest:
        raise RecordHasChanged()
    steps = _changed(stored.practical, actor, new, now)
    grown = amended(stored.practical, steps)
    for number, step in enumerate(steps, 1):
        add_step(session, actor.shop_id, _up_to(grown, len(steps) - number), step)
    superseding = Superseding(stored.record, actor.person_id, new.reason.strip())
    frozen = keep_record(
        session, actor, stored, grown, "practical amended", now, superseding=superseding
    )
    session.flush()
    session.add(
        Amendment(
            shop_id=actor.shop_id,
            record_id=frozen.id,
            amended_by=actor.person_id,
            reason=superseding.reason,
        )
    )
    return frozen


def amends(session: Session, actor: Actor, stored: StoredPractical) -> bool:
    """Return whether this person may amend this practical."""
    assessor = member(session, actor.shop_id, stored.practical.supervisor_id)
    return actor.may(Permission.AMEND_PRACTICAL) and may_amend(
        actor.person_id,
        trainee_id=stored.practical.trainee_id,
        assessor_id=stored.practical.supervisor_id,
        assessor_is_here=assessor is not None and Role.SUPERVISOR in assessor.roles,
    )


def _changed(
    practical: Practical, actor: Actor, new: NewAmendment, now: datetime
) -> tuple[Step, ...]:
    """Return a step for what reads otherwise now; the first carries the amendment's id."""
    bodies: list[tuple[Stage, StepBody]] = []
    if practical.judgement is None or dict(new.judgement.met) != dict(practical.judgement.met):
        bodies.append((Stage.CRITERIA, new.judgement))
    if new.talk != practical.talk:
        bodies.append((Stage.TALK, new.talk))
    return tuple(
        Step(new.id if number == 0 else uuid4(), stage, body, now, actor.person_id)
        for number, (stage, body) in enumerate(bodies)
    )


def _up_to(grown: Practical, left_out: int) -> Practical:
    """Return the practical as it stood before its last steps, to number each as it is added."""
    return replace(grown, steps=grown.steps[: len(grown.steps) - left_out])
