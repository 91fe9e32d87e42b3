"""One signed practical in ten is judged again, blind, by somebody who was not at the panel."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime
from random import Random
from uuid import UUID, uuid4

from sqlalchemy import select
from sqlalchemy.orm import Session

from academy.domain.people import Permission
from academy.domain.practical.outcome import Outcome
from academy.domain.practical.second_judgement import (
    ONE_IN,
    Answer,
    AnswerMissing,
    JudgedAgainAlready,
    drawn,
    refuse_not_blind,
)
from academy.domain.practical.stages import PracticalKind
from academy.services import journal
from academy.services.actor import Actor, NotFound
from academy.store.queries.practicals import StoredPractical, StoredRecord, stored_practical
from academy.store.tables.judgement import SecondJudgement


def draw(
    session: Session,
    shop_id: UUID,
    stored: StoredPractical,
    record: StoredRecord,
    seed: str,
    now: datetime,
) -> dict[str, object]:
    """Let recorded chance decide whether a record is judged again; return what the journal keeps.

    Only what can be evidence takes part, and an amendment is not drawn anew.
    """
    practical = stored.practical
    shows_nothing = record.record["outcome"] not in {Outcome.COMPETENT, Outcome.NOT_YET}
    if (
        practical.kind is not PracticalKind.ASSESSED
        or practical.taken_over
        or shows_nothing
        or record.record.get("supersedes")
    ):
        return {}
    is_drawn = drawn(Random(seed))
    if is_drawn:
        session.add(
            SecondJudgement(
                shop_id=shop_id,
                id=uuid4(),
                practical_id=practical.id,
                record_id=record.id,
                seed=seed,
                drawn_at=now,
                seen_by=[],
            )
        )
    return {"draw": {"seed": seed, "one_in": ONE_IN, "drawn": is_drawn}}


def judge_again(
    session: Session,
    *,
    actor: Actor,
    judgement_id: UUID,
    answers: Mapping[str, Answer],
    now: datetime,
) -> None:
    """Judge a drawn practical from its record; sent again by the same person it changes nothing.

    Raises
    ------
    NotBlind, JudgedAgainAlready, AnswerMissing
        Nothing is kept.
    """
    actor.require(Permission.JUDGE_AGAIN)
    row, stored = _drawn(session, actor, judgement_id)
    if row.judged_by == actor.person_id:
        return
    refuse_not_blind(actor.person_id, involved_in(stored, row.seen_by))
    if row.judged_by is not None:
        raise JudgedAgainAlready()
    row.answers = _complete(stored, answers)
    row.judged_by, row.judged_at = actor.person_id, now
    session.flush()
    journal.append(
        session,
        shop_id=actor.shop_id,
        actor_id=actor.person_id,
        kind="practical judged again",
        body={"judgement": str(row.id), "record": str(row.record_id), "answers": row.answers},
        at=now,
    )


def see_first_judgement(
    session: Session, *, actor: Actor, practical_id: UUID, now: datetime
) -> None:
    """Note that somebody asked to see how it was judged, and so no longer judges it blind."""
    actor.require(Permission.JUDGE_AGAIN)
    row = session.scalars(
        select(SecondJudgement)
        .where(
            SecondJudgement.shop_id == actor.shop_id,
            SecondJudgement.practical_id == practical_id,
            SecondJudgement.judged_at.is_(None),
        )
        .with_for_update()
    ).one_or_none()
    if row is None or str(actor.person_id) in row.seen_by:
        return
    row.seen_by = [*row.seen_by, str(actor.person_id)]
    session.flush()


def involved_in(stored: StoredPractical, seen_by: list[str]) -> frozenset[UUID]:
    """Return who cannot judge a practical blind: who was at the panel, and who has looked."""
    practical, record = stored.practical, stored.record
    signer = record.signer(practical.supervisor_id) if record else practical.supervisor_id
    return frozenset(
        {practical.trainee_id, practical.supervisor_id, signer, *(UUID(one) for one in seen_by)}
    )


def _complete(stored: StoredPractical, answers: Mapping[str, Answer]) -> dict[str, str]:
    judged_by_eye = [c for c in stored.practical.task.criteria if not c.measured]
    for criterion in judged_by_eye:
        if criterion.id not in answers:
            raise AnswerMissing(criterion.text)
    return {criterion.id: answers[criterion.id].value for criterion in judged_by_eye}


def _drawn(
    session: Session, actor: Actor, judgement_id: UUID
) -> tuple[SecondJudgement, StoredPractical]:
    row = session.scalars(
        select(SecondJudgement)
        .where(SecondJudgement.shop_id == actor.shop_id, SecondJudgement.id == judgement_id)
        .with_for_update()
    ).one_or_none()
    stored = stored_practical(session, actor.shop_id, row.practical_id) if row else None
    if row is None or stored is None:
        raise NotFound()
    return row, stored
