"""A question may be questioned; a voided one is taken out of every result that rests on it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from uuid import UUID

from sqlalchemy import select
from sqlalchemy.orm import Session

from academy.domain.assessment.frozen import (
    drawn_form_from_frozen,
    frozen_result,
    result_from_frozen,
)
from academy.domain.assessment.voiding import never_worse
from academy.domain.curriculum.course import Course
from academy.domain.people import Permission
from academy.domain.sentences import TradeError
from academy.keys.digests import digest_of
from academy.services import journal
from academy.services.actor import Actor, NotFound
from academy.services.sitting import NotOnThisForm, own_sitting
from academy.services.sitting_rows import locked_sitting, outcome, score
from academy.services.standing import rewrite_standings
from academy.store.queries.disputes import voided_digests
from academy.store.queries.examinations import paper_entries, spoken_answers
from academy.store.tables.examinations import Dispute
from academy.store.tables.study import Sitting, SittingQuestion


@dataclass(eq=False)
class NotHandedIn(TradeError):
    """A question is questioned after the result is known."""

    template = "Hand in first; a question is questioned from its result"


@dataclass(eq=False)
class NotUninvolved(TradeError):
    """The person took part in this sitting or wrote the question."""

    template = "Somebody who neither wrote the question nor sat or examined with it has to decide"


@dataclass(eq=False)
class AlreadyDecided(TradeError):
    """A decision stands."""

    template = "This has been decided already; the decision stands"


def question_a_question(
    session: Session,
    *,
    actor: Actor,
    dispute_id: UUID,
    sitting_id: UUID,
    question_id: str,
    reason: str,
    now: datetime,
) -> None:
    """Question one item of one's own result; asking twice is kept once."""
    sitting = own_sitting(session, actor, sitting_id)
    if sitting.result is None:
        raise NotHandedIn()
    item = drawn_form_from_frozen(sitting.form).form.find(question_id)
    if item is None:
        raise NotOnThisForm()
    known = session.scalar(
        select(Dispute.id).where(
            Dispute.shop_id == actor.shop_id,
            Dispute.sitting_id == sitting_id,
            Dispute.question_id == question_id,
            Dispute.raised_by == actor.person_id,
        )
    )
    if known is not None:
        return
    session.add(
        Dispute(
            shop_id=actor.shop_id,
            id=dispute_id,
            sitting_id=sitting_id,
            question_id=question_id,
            question_digest=item.question.digest,
            raised_by=actor.person_id,
            raised_at=now,
            reason=reason,
        )
    )


def decide_dispute(
    session: Session,
    *,
    actor: Actor,
    dispute_id: UUID,
    voided: bool,
    decision: str,
    wrote_it: bool,
    course: Course,
    now: datetime,
) -> int:
    """Decide whether a question stands or is voided; return how many results changed.

    ``wrote_it`` is what the person states about the question's authorship.
    """
    actor.require(Permission.DECIDE_DISPUTE)
    dispute = session.scalars(
        select(Dispute)
        .where(Dispute.shop_id == actor.shop_id, Dispute.id == dispute_id)
        .with_for_update()
    ).one_or_none()
    if dispute is None:
        raise NotFound()
    if dispute.decided_at is not None:
        raise AlreadyDecided()
    sitting = locked_sitting(session, actor.shop_id, dispute.sitting_id)
    if wrote_it or actor.person_id in _involved(session, sitting) | {dispute.raised_by}:
        raise NotUninvolved()
    decided = [dispute, *(_same_wording(session, dispute) if voided else ())]
    for one in decided:
        one.decided_by, one.decided_at = actor.person_id, now
        one.voided, one.decision = voided, decision
        _note_decision(session, one)
    session.flush()
    return _recompute(session, actor, dispute.question_digest, course, now) if voided else 0


def _involved(session: Session, sitting: Sitting) -> set[UUID | None]:
    """Return who sat or examined: opened it, asked a spoken question or entered the paper."""
    spoken = spoken_answers(session, sitting.shop_id, sitting.id)
    entries = paper_entries(session, sitting.shop_id, sitting.id)
    asked = {row.asked_by for row in spoken} | {row.entered_by for row in entries}
    return {sitting.person_id, sitting.opened_by, *asked}


def _same_wording(session: Session, dispute: Dispute) -> Sequence[Dispute]:
    """Return the other open disputes of a wording; once it is voided nothing is left to decide."""
    return session.scalars(
        select(Dispute)
        .where(
            Dispute.shop_id == dispute.shop_id,
            Dispute.id != dispute.id,
            Dispute.question_digest == dispute.question_digest,
            Dispute.decided_at.is_(None),
        )
        .order_by(Dispute.id)
        .with_for_update()
    ).all()


def _note_decision(session: Session, dispute: Dispute) -> None:
    assert dispute.decided_by is not None
    assert dispute.decided_at is not None
    journal.append(
        session,
        shop_id=dispute.shop_id,
        actor_id=dispute.decided_by,
        kind="question decided",
        body={
            "dispute": str(dispute.id),
            "question": dispute.question_id,
            "wording": dispute.question_digest,
            "voided": dispute.voided,
        },
        at=dispute.decided_at,
    )


def _recompute(session: Session, actor: Actor, wording: str, course: Course, now: datetime) -> int:
    """Take a voided wording out of every submitted result of the shop; each change is journaled."""
    affected = session.scalars(
        select(Sitting)
        .join(
            SittingQuestion,
            (SittingQuestion.shop_id == Sitting.shop_id)
            & (SittingQuestion.sitting_id == Sitting.id),
        )
        .where(
            Sitting.shop_id == actor.shop_id,
            Sitting.result.is_not(None),
            SittingQuestion.question_digest == wording,
        )
        .order_by(Sitting.id)
        .with_for_update(of=Sitting)
    ).all()
    voided = voided_digests(session, actor.shop_id)
    changed = [_rescore(session, actor, sitting, voided, now) for sitting in affected]
    for person_id in sorted({sitting.person_id for sitting in affected}):
        rewrite_standings(
            session, shop_id=actor.shop_id, person_id=person_id, course=course, now=now
        )
    return sum(changed)


def _rescore(
    session: Session, actor: Actor, sitting: Sitting, voided: frozenset[str], now: datetime
) -> bool:
    """Score a sitting again without the voided questions; return whether its result changed."""
    assert sitting.result is not None
    result = never_worse(result_from_frozen(sitting.result), score(session, sitting))
    before, sitting.result = digest_of(sitting.result), frozen_result(result)
    if before == digest_of(sitting.result):
        return False
    # a fault in our question never takes back what a person had passed
    sitting.passed = sitting.passed or outcome(session, sitting, result)
    _forget_marks(session, sitting, voided)
    journal.append(
        session,
        shop_id=sitting.shop_id,
        actor_id=actor.person_id,
        kind="result recomputed",
        body={
            "sitting": str(sitting.id),
            "before": before,
            "after": digest_of(sitting.result),
            "passed": sitting.passed,
        },
        at=now,
    )
    return True


def _forget_marks(session: Session, sitting: Sitting, voided: frozenset[str]) -> None:
    """Take the marks of voided questions out of what refreshers and statistics read."""
    rows = session.scalars(
        select(SittingQuestion).where(
            SittingQuestion.shop_id == sitting.shop_id,
            SittingQuestion.sitting_id == sitting.id,
            SittingQuestion.question_digest.in_(voided),
        )
    )
    for row in rows:
        row.marks = None
