"""A practical at the panel, from the choice to the last step; it is one document that only grows."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from uuid import UUID

from sqlalchemy.orm import Session

from academy.domain.curriculum.frozen import frozen_task
from academy.domain.curriculum.tasks import PracticalTask
from academy.domain.people import Permission, Role, refuse_own_practical
from academy.domain.practical.frozen import frozen_body
from academy.domain.practical.record import Practical, record
from academy.domain.practical.refusals import (
    PracticalIsClosed,
    SacrificialIsForPractice,
    SectionIsRetired,
    WrongSpots,
    WrongSubstrate,
)
from academy.domain.practical.reteaching import refuse_other_drill
from academy.domain.practical.stages import PracticalKind, Stage, stages_of, uses_a_machine
from academy.domain.practical.steps import Readings, Step, StepBody, Talk
from academy.domain.sentences import TradeError
from academy.domain.workshop.gauges import method_needed
from academy.services.actor import Actor, NotFound
from academy.services.frozen_documents import keep_document
from academy.services.gauge_trust import refuse_to_read
from academy.services.practical_rows import own_practical
from academy.services.references import refuse_to_assess
from academy.services.reteaching import refuse_before_reteaching
from academy.store.queries.panels import sections_left
from academy.store.queries.people import member
from academy.store.queries.workshop import SectionRow, gauge, section
from academy.store.tables.practicals import Photograph, PracticalStep
from academy.store.tables.practicals import Practical as PracticalRow


@dataclass(eq=False)
class PageIsStale(TradeError):
    """Somebody recorded a step since this page was loaded."""

    template = (
        "Another step was recorded since you opened this page; nothing was changed."
        " Look at it and enter yours again"
    )


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
    NotTheirOwn, NotATrainee, NotFound, WrongSubstrate, WrongSpots, GaugeNeeded,
    WrongMethod, ReteachFirst, ReferencesFirst
        The choice is refused; nothing is written.
    """
    actor.require(Permission.ASSESS_PRACTICAL)
    if session.get(PracticalRow, (actor.shop_id, new.id)) is not None:
        return new.id
    refuse_own_practical(actor.person_id, new.trainee_id)
    _refuse_wrong_choice(session, actor, new, task)
    if new.kind is PracticalKind.ASSESSED:
        refuse_to_assess(session, actor)
        refuse_before_reteaching(session, actor.shop_id, new.trainee_id, task.id)
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
            stages=[stage.value for stage in stages_of(task)],
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
    drills: Sequence[str] = (),
) -> Practical:
    """Record one step.  The same id sent again is answered and not doubled.

    ``drills`` are those that practise the task; the talk names one of them.

    Raises
    ------
    PageIsStale
        Another step was recorded since the page was loaded.
    PracticalError
        The step does not come now or is not complete.
    GaugeRefusal
        It holds readings, and the gauge is not verified today, failed, or does not read this metal.
    """
    stored = own_practical(session, actor, practical_id)
    if any(step.id == step_id for step in stored.practical.steps):
        return stored.practical
    if seen_version != stored.practical.version:
        raise PageIsStale()
    if isinstance(body, Talk):
        refuse_other_drill(body.next_drill, drills)
    step = Step(step_id, stage, body, now, actor.person_id)
    grown = record(stored.practical, step)
    if isinstance(body, Readings):
        refuse_to_read(session, actor.shop_id, stored, now)
    add_step(session, actor.shop_id, grown, step)
    return grown


def add_step(session: Session, shop_id: UUID, grown: Practical, step: Step) -> None:
    """Write the step by which a practical has just grown."""
    session.add(
        PracticalStep(
            shop_id=shop_id,
            id=step.id,
            practical_id=grown.id,
            number=grown.version,
            stage=step.stage,
            body=frozen_body(step.body),
            recorded_at=step.recorded_at,
            recorded_by=step.recorded_by,
        )
    )


def add_photograph(
    session: Session,
    *,
    actor: Actor,
    practical_id: UUID,
    photograph_id: UUID,
    digest: str,
    caption: str,
    now: datetime,
    stage: Stage | None = None,
) -> None:
    """Put a kept photograph into a practical that is still open."""
    stored = own_practical(session, actor, practical_id)
    if stored.practical.closed_at is not None:
        raise PracticalIsClosed()
    if session.get(Photograph, (actor.shop_id, photograph_id)) is None:
        session.add(
            Photograph(
                shop_id=actor.shop_id,
                id=photograph_id,
                practical_id=practical_id,
                digest=digest,
                stage=stage,
                caption=caption,
                taken_by=actor.person_id,
                taken_at=now,
            )
        )


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
    _refuse_unfit_section(session, actor.shop_id, chosen, new.kind, task)
    if task.spots:
        chosen_gauge = gauge(session, actor.shop_id, new.gauge_id) if new.gauge_id else None
        if chosen_gauge is None:
            raise GaugeNeeded()
        method_needed(chosen_gauge.label, chosen_gauge.methods, chosen.substrate)


def _refuse_unfit_section(
    session: Session, shop_id: UUID, chosen: SectionRow, kind: PracticalKind, task: PracticalTask
) -> None:
    """Refuse a section whose budget is used, and assessing on a panel that may be spoiled."""
    if chosen.sacrificial:
        if kind is PracticalKind.ASSESSED:
            raise SacrificialIsForPractice(chosen.name)
        return
    left = sections_left(session, shop_id, chosen.panel_id) if uses_a_machine(task) else ()
    if any(one.state.retired for one in left if one.section.id == chosen.id):
        raise SectionIsRetired(chosen.name)
