"""Reference panels: what was agreed on them, and the new supervisors who judge them blind."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from uuid import UUID

from sqlalchemy.orm import Session

from academy.domain.curriculum.tasks import PracticalTask
from academy.domain.people import Permission, Role
from academy.domain.practical.completeness import refuse_unknown
from academy.domain.practical.reference_panels import (
    AGAIN_AFTER,
    Compared,
    JudgedThisRound,
    MayAssess,
    ReferencesFirst,
    Standing,
    SupervisorRecord,
    TooSoonAgain,
    compared,
    refuse_agreement,
    standing_of,
)
from academy.domain.practical.second_judgement import AnswerMissing
from academy.services import journal
from academy.services.actor import Actor, NotFound
from academy.services.reteaching import NotASupervisor
from academy.services.shop_clock import on_shop_clock, today_in_shop
from academy.store.queries.people import members
from academy.store.queries.references import (
    JudgementRow,
    ReferenceRow,
    first_assessed_at,
    first_supervisors,
    judgements_by,
    references,
)
from academy.store.queries.workshop import section
from academy.store.tables.judgement import ReferenceJudgement, ReferencePanel


@dataclass(frozen=True, slots=True)
class NewReference:
    """A section kept to judge by, what was agreed on it, and by whom."""

    id: UUID
    section_id: UUID
    label: str
    agreed: Mapping[str, bool]
    agreed_by: Sequence[UUID]


@dataclass(frozen=True, slots=True)
class OwnReferences:
    """What one supervisor has to do with the reference panels, and may do therefore."""

    standing: Standing
    active: tuple[ReferenceRow, ...]
    round: int
    judged: Mapping[UUID, JudgementRow]
    compared: tuple[Compared, ...]
    latest_at: datetime | None

    @property
    def complete(self) -> bool:
        """Return whether every panel of this round is judged; only then is what was agreed shown."""
        return bool(self.active) and len(self.judged) == len(self.active)


def add_reference(
    session: Session, *, actor: Actor, new: NewReference, task: PracticalTask, now: datetime
) -> UUID:
    """Keep a reference panel; a known id is answered and not doubled.

    Raises
    ------
    NothingAgreed, AgreedAlone, NotASupervisor, NotOnTheTask, NotFound
        Nothing is kept.
    """
    actor.require(Permission.KEEP_REFERENCES)
    if session.get(ReferencePanel, (actor.shop_id, new.id)) is not None:
        return new.id
    if section(session, actor.shop_id, new.section_id) is None:
        raise NotFound()
    seen = [criterion for criterion in task.criteria if not criterion.measured]
    refuse_unknown(task, new.agreed, [criterion.id for criterion in seen])
    supervisors = {
        person.person_id
        for person in members(session, actor.shop_id)
        if Role.SUPERVISOR in person.roles
    }
    if not set(new.agreed_by) <= supervisors:
        raise NotASupervisor()
    refuse_agreement(new.agreed, new.agreed_by, len(supervisors))
    session.add(
        ReferencePanel(
            shop_id=actor.shop_id,
            id=new.id,
            section_id=new.section_id,
            label=new.label,
            task_id=task.id,
            criteria=[{"id": c.id, "text": c.text, "critical": c.critical} for c in seen],
            agreed=dict(new.agreed),
            agreed_by=sorted(str(person) for person in set(new.agreed_by)),
            made_at=now,
            made_by=actor.person_id,
        )
    )
    _keep(session, actor, "reference panel kept", {"reference": str(new.id)}, now)
    return new.id


def retire_reference(session: Session, *, actor: Actor, reference_id: UUID, now: datetime) -> None:
    """Take a reference panel out of use; what was judged on it stays."""
    actor.require(Permission.KEEP_REFERENCES)
    row = session.get(ReferencePanel, (actor.shop_id, reference_id))
    if row is None:
        raise NotFound()
    if row.retired_at is None:
        row.retired_at = now
        _keep(session, actor, "reference panel retired", {"reference": str(reference_id)}, now)


def judge_reference(
    session: Session,
    *,
    actor: Actor,
    judgement_id: UUID,
    reference_id: UUID,
    met: Mapping[str, bool],
    now: datetime,
) -> None:
    """Judge one reference panel without seeing what was agreed; a known id is answered.

    Raises
    ------
    JudgedThisRound, TooSoonAgain, AnswerMissing, NotFound
        Nothing is kept.
    """
    actor.require(Permission.JUDGE_REFERENCES)
    if session.get(ReferenceJudgement, (actor.shop_id, judgement_id)) is not None:
        return
    own = own_references(session, actor.shop_id, actor.person_id)
    reference = next((one for one in own.active if one.id == reference_id), None)
    if reference is None:
        raise NotFound()
    number = _round_to_judge(session, actor.shop_id, own, reference_id, now)
    session.add(
        ReferenceJudgement(
            shop_id=actor.shop_id,
            id=judgement_id,
            reference_id=reference_id,
            person_id=actor.person_id,
            round=number,
            met=_complete(reference, met),
            judged_at=now,
        )
    )
    body = {"reference": str(reference_id), "judgement": str(judgement_id), "round": number}
    _keep(session, actor, "reference panel judged", body, now)


def own_references(session: Session, shop_id: UUID, person_id: UUID) -> OwnReferences:
    """Return where one supervisor stands with the reference panels."""
    ever = references(session, shop_id)
    active = tuple(one for one in ever if one.retired_at is None)
    given = judgements_by(session, shop_id, person_id)
    number = max((one.round for one in given), default=1)
    known = {one.id for one in active}
    judged = {
        one.reference_id: one for one in given if one.round == number and one.reference_id in known
    }
    pairs = tuple(
        pair
        for one in active
        if one.id in judged
        for pair in compared(one.label, one.criteria, one.agreed, judged[one.id].met)
    )
    latest = max((one.judged_at for one in judged.values()), default=None)
    first_kept = min((one.made_at for one in ever), default=None)
    assessed_at = first_assessed_at(session, shop_id, person_id)
    record = SupervisorRecord(
        founding=person_id in first_supervisors(session, shop_id),
        agreed_on_references=any(person_id in one.agreed_by for one in ever),
        assessed_before_references=bool(first_kept and assessed_at and assessed_at < first_kept),
        references=len(active),
        judged=len(judged),
        compared=pairs,
        latest_at=on_shop_clock(session, shop_id, latest) if latest else None,
    )
    return OwnReferences(standing_of(record), active, number, judged, pairs, latest)


def refuse_to_assess(session: Session, actor: Actor) -> None:
    """Raise ReferencesFirst for a new supervisor who has not judged the reference panels well enough."""
    standing = own_references(session, actor.shop_id, actor.person_id).standing
    if not isinstance(standing, MayAssess):
        raise ReferencesFirst(str(standing))


def _round_to_judge(
    session: Session, shop_id: UUID, own: OwnReferences, reference_id: UUID, now: datetime
) -> int:
    if not own.complete:
        if reference_id in own.judged:
            raise JudgedThisRound()
        return own.round
    if isinstance(own.standing, MayAssess):
        raise JudgedThisRound()
    again_at = own.latest_at + AGAIN_AFTER if own.latest_at else now
    if now < again_at:
        raise TooSoonAgain(today_in_shop(session, shop_id, again_at))
    return own.round + 1


def _complete(reference: ReferenceRow, met: Mapping[str, bool]) -> dict[str, bool]:
    for name in reference.agreed:
        if name not in met:
            raise AnswerMissing(reference.criteria[name][0])
    return {name: met[name] for name in reference.agreed}


def _keep(
    session: Session, actor: Actor, kind: str, body: dict[str, object], now: datetime
) -> None:
    session.flush()
    journal.append(
        session, shop_id=actor.shop_id, actor_id=actor.person_id, kind=kind, body=body, at=now
    )
