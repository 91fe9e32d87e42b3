"""A practical from the first reading to the signature.

The practical is one document: its steps are only ever added.  Closing freezes
the record; signing binds a person's proof to the digest of that record.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from uuid import UUID, uuid4

from sqlalchemy import select
from sqlalchemy.orm import Session

from academy.domain.curriculum.course import Course
from academy.domain.curriculum.frozen import frozen_task
from academy.domain.curriculum.tasks import PracticalTask
from academy.domain.people import Permission, Role, may_sign, refuse_own_practical
from academy.domain.practical.frozen import frozen_body
from academy.domain.practical.outcome import Judged, judged
from academy.domain.practical.record import Practical, close, record
from academy.domain.practical.refusals import (
    PracticalIsClosed,
    PracticalIsOpen,
    PracticalIsSigned,
    WrongSpots,
    WrongSubstrate,
)
from academy.domain.practical.stages import PracticalKind, Stage
from academy.domain.practical.steps import Step, StepBody
from academy.domain.sentences import TradeError
from academy.services import journal
from academy.services.actor import Actor, NotAllowed, NotFound, Proof
from academy.services.frozen_documents import keep_document
from academy.services.practical_record import FrozenRecord, freeze
from academy.services.standing import rewrite_standings
from academy.store.queries.people import member
from academy.store.queries.practicals import StoredPractical, stored_practical
from academy.store.queries.workshop import gauge, section
from academy.store.tables.practicals import Photograph, PracticalStep, Signature, SignedRecord
from academy.store.tables.practicals import Practical as PracticalRow

ASSESSED = "assessed"
AGREED = "seen and agreed"


@dataclass(eq=False)
class PageIsStale(TradeError):
    """Somebody recorded a step since this page was loaded."""

    template = (
        "Another step was recorded since you opened this page; nothing was changed."
        " Look at it and enter yours again"
    )


@dataclass(eq=False)
class ProofIsSomebodyElses(TradeError):
    """The password proved another person."""

    template = "This password belongs to somebody who does not sign this record"


@dataclass(eq=False)
class NotATrainee(TradeError):
    """The person chosen is not in training here."""

    template = "Choose a trainee of this shop"


@dataclass(eq=False)
class GaugeNeeded(TradeError):
    """A task with readings needs a gauge."""

    template = "Choose the gauge the readings are taken with"


@dataclass(frozen=True, slots=True)
class NewPractical:
    """What is chosen before the first reading."""

    id: UUID
    trainee_id: UUID
    section_id: UUID
    gauge_id: UUID | None
    kind: PracticalKind


def open_practical(
    session: Session, *, actor: Actor, new: NewPractical, task: PracticalTask, now: datetime
) -> UUID:
    """Open a practical; a known id is answered with itself and not doubled.

    Raises
    ------
    NotTheirOwn, NotATrainee, NotFound, WrongSubstrate, WrongSpots, GaugeNeeded
        The choice is refused; nothing is written.
    """
    actor.require(Permission.ASSESS_PRACTICAL)
    if session.get(PracticalRow, (actor.shop_id, new.id)) is not None:
        return new.id
    refuse_own_practical(actor.person_id, new.trainee_id)
    _refuse_wrong_choice(session, actor, new, task)
    keep_document(session, "task", task.digest, frozen_task(task), now)
    session.add(
        PracticalRow(
            shop_id=actor.shop_id,
            id=new.id,
            trainee_id=new.trainee_id,
            supervisor_id=actor.person_id,
            section_id=new.section_id,
            gauge_id=new.gauge_id if task.spots else None,
            task_id=task.id,
            task=frozen_task(task),
            task_digest=task.digest,
            kind=new.kind,
            opened_at=now,
        )
    )
    return new.id


def record_step(
    session: Session,
    *,
    actor: Actor,
    practical_id: UUID,
    step_id: UUID,
    stage: Stage,
    body: StepBody,
    seen_version: int,
    now: datetime,
) -> Practical:
    """Record one step.  The same id sent again is answered and not doubled.

    Raises
    ------
    PageIsStale
        Another step was recorded since the page was loaded.
    PracticalError
        The step does not come now or is not complete.
    """
    stored = _own_practical(session, actor, practical_id)
    if any(step.id == step_id for step in stored.practical.steps):
        return stored.practical
    if seen_version != stored.practical.version:
        raise PageIsStale()
    grown = record(stored.practical, Step(step_id, stage, body, now, actor.person_id))
    session.add(
        PracticalStep(
            shop_id=actor.shop_id,
            id=step_id,
            practical_id=practical_id,
            number=grown.version,
            stage=stage,
            body=frozen_body(body),
            recorded_at=now,
            recorded_by=actor.person_id,
        )
    )
    return grown


def add_photograph(
    session: Session,
    *,
    actor: Actor,
    practical_id: UUID,
    photograph_id: UUID,
    digest: str,
    caption: str,
    now: datetime,
) -> None:
    """Put a kept photograph into a practical that is still open."""
    stored = _own_practical(session, actor, practical_id)
    if stored.practical.closed_at is not None:
        raise PracticalIsClosed()
    if session.get(Photograph, (actor.shop_id, photograph_id)) is None:
        session.add(
            Photograph(
                shop_id=actor.shop_id,
                id=photograph_id,
                practical_id=practical_id,
                digest=digest,
                caption=caption,
                taken_by=actor.person_id,
                taken_at=now,
            )
        )


def close_practical(
    session: Session, *, actor: Actor, practical_id: UUID, now: datetime
) -> FrozenRecord:
    """Freeze the record at the panel; closing twice gives the first record."""
    stored = _own_practical(session, actor, practical_id)
    if stored.record is not None:
        return stored.record
    closed = close(stored.practical, now)
    frozen = freeze(stored, closed, judged(closed, stored.gauge))
    session.add(
        SignedRecord(
            shop_id=actor.shop_id,
            id=frozen.id,
            practical_id=practical_id,
            record=frozen.record,
            digest=frozen.digest,
            salts=frozen.salts,
            frozen_at=now,
        )
    )
    session.get_one(PracticalRow, (actor.shop_id, practical_id)).closed_at = now
    journal.append(
        session,
        shop_id=actor.shop_id,
        actor_id=actor.person_id,
        kind="practical closed",
        body={"practical": str(practical_id), "record": frozen.digest},
        at=now,
    )
    return frozen


def sign_practical(
    session: Session,
    *,
    actor: Actor,
    practical_id: UUID,
    proof: Proof,
    course: Course,
    now: datetime,
) -> None:
    """Sign a closed record as the supervisor who assessed it.

    ``proof`` is a person who has just proved their password on this device; it
    need not be the person signed in, so two people can sign on one device.
    """
    actor.require(Permission.SIGN_PRACTICAL)
    stored = _locked_practical(session, actor, practical_id)
    if not may_sign(proof.person_id, stored.practical.trainee_id, stored.practical.supervisor_id):
        raise ProofIsSomebodyElses()
    if stored.signed_at is not None:
        raise PracticalIsSigned()
    _write_signature(session, actor.shop_id, stored, proof, ASSESSED, now)
    session.get_one(PracticalRow, (actor.shop_id, practical_id)).signed_at = now
    rewrite_standings(
        session,
        shop_id=actor.shop_id,
        person_id=stored.practical.trainee_id,
        course=course,
        now=now,
    )


def countersign_practical(
    session: Session, *, actor: Actor, practical_id: UUID, proof: Proof, now: datetime
) -> None:
    """Countersign a closed record as its trainee; signing again changes nothing."""
    actor.require(Permission.SIGN_PRACTICAL)
    stored = _locked_practical(session, actor, practical_id)
    if proof.person_id != stored.practical.trainee_id:
        raise ProofIsSomebodyElses()
    if not any(signature.meaning == AGREED for signature in stored.signatures):
        _write_signature(session, actor.shop_id, stored, proof, AGREED, now)


def outcome_of(stored: StoredPractical) -> Judged:
    """Return the outcome as it stands, from the steps recorded so far."""
    return judged(stored.practical, stored.gauge)


def _refuse_wrong_choice(
    session: Session, actor: Actor, new: NewPractical, task: PracticalTask
) -> None:
    trainee = member(session, actor.shop_id, new.trainee_id)
    if trainee is None or Role.TRAINEE not in trainee.roles:
        raise NotATrainee()
    chosen = section(session, actor.shop_id, new.section_id)
    if chosen is None:
        raise NotFound()
    if chosen.substrate not in task.substrates:
        raise WrongSubstrate(task.title, chosen.substrate)
    if chosen.spots < task.spots:
        raise WrongSpots(task.spots, chosen.spots)
    if task.spots and (new.gauge_id is None or gauge(session, actor.shop_id, new.gauge_id) is None):
        raise GaugeNeeded()


def _own_practical(session: Session, actor: Actor, practical_id: UUID) -> StoredPractical:
    """Return a practical for the supervisor who stands at its panel."""
    actor.require(Permission.ASSESS_PRACTICAL)
    stored = _locked_practical(session, actor, practical_id)
    if stored.practical.supervisor_id != actor.person_id:
        raise NotAllowed()
    return stored


def _locked_practical(session: Session, actor: Actor, practical_id: UUID) -> StoredPractical:
    session.execute(
        select(PracticalRow.id)
        .where(PracticalRow.shop_id == actor.shop_id, PracticalRow.id == practical_id)
        .with_for_update()
    )
    stored = stored_practical(session, actor.shop_id, practical_id)
    if stored is None:
        raise NotFound()
    return stored


def _write_signature(
    session: Session,
    shop_id: UUID,
    stored: StoredPractical,
    proof: Proof,
    meaning: str,
    now: datetime,
) -> None:
    if stored.record is None:
        raise PracticalIsOpen()
    if member(session, shop_id, proof.person_id) is None:  # who has left signs nothing here
        raise ProofIsSomebodyElses()
    session.add(
        Signature(
            shop_id=shop_id,
            id=uuid4(),
            record_id=stored.record.id,
            record_digest=stored.record.digest,
            person_id=proof.person_id,
            meaning=meaning,
            signed_at=now,
            proved_by=proof.by,
        )
    )
    session.flush()
    journal.append(
        session,
        shop_id=shop_id,
        actor_id=proof.person_id,
        kind="practical signed",
        body={
            "practical": str(stored.practical.id),
            "record": stored.record.digest,
            "meaning": meaning,
        },
        at=now,
    )
