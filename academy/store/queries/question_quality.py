"""Every sitting of a shop with what was presented and answered, for judging the questions."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any, NamedTuple
from uuid import UUID

from sqlalchemy import Text, cast, func, select, type_coerce
from sqlalchemy.orm import Session

from academy.store.tables.examinations import Dispute
from academy.store.tables.study import Answer, Sitting, SittingQuestion


class OpenedSitting(NamedTuple):
    """One sitting, in the order they were opened; ids are text."""

    sitting: str
    person: str
    purpose: str
    module_id: str
    scheme_id: str | None
    opened_at: datetime
    submitted_at: datetime | None
    passed: bool | None


class Presented(NamedTuple):
    """One question of a sitting; ``marks`` is None before it is handed in and once it is voided."""

    sitting: str
    question_id: str
    wording: str
    marks: int | None


@dataclass(frozen=True, slots=True)
class DisputeCount:
    """How often a wording was questioned, how often that is open, and whether it was voided."""

    raised: int
    open: int
    voided: bool


class Stamp(NamedTuple):
    """What changes whenever the answers or the disputes of a shop do."""

    submitted: int
    last_submitted_at: datetime | None
    presented: int
    disputes: int
    last_decided_at: datetime | None


def stamp(session: Session, shop_id: UUID) -> Stamp:
    """Return the state of a shop's answers and disputes in a few numbers."""
    submitted = session.execute(
        select(func.count(), func.max(Sitting.submitted_at)).where(
            Sitting.shop_id == shop_id, Sitting.submitted_at.is_not(None)
        )
    ).one()
    presented = session.scalar(
        select(func.count()).select_from(SittingQuestion).where(SittingQuestion.shop_id == shop_id)
    )
    disputes = session.execute(
        select(func.count(), func.max(Dispute.decided_at)).where(Dispute.shop_id == shop_id)
    ).one()
    return Stamp(submitted[0], submitted[1], presented or 0, disputes[0], disputes[1])


def opened_sittings(session: Session, shop_id: UUID) -> list[OpenedSitting]:
    """Return a shop's sittings of every purpose, in the order they were opened."""
    rows = session.execute(
        select(
            cast(Sitting.id, Text),
            cast(Sitting.person_id, Text),
            Sitting.purpose,
            Sitting.module_id,
            Sitting.scheme_id,
            Sitting.opened_at,
            Sitting.submitted_at,
            Sitting.passed,
        )
        .where(Sitting.shop_id == shop_id)
        .order_by(Sitting.opened_at, Sitting.id)
    )
    return list(map(OpenedSitting._make, rows))


def presented(session: Session, shop_id: UUID) -> list[Presented]:
    """Return every question of every sitting of a shop, sitting by sitting."""
    rows = session.execute(
        select(
            cast(SittingQuestion.sitting_id, Text),
            SittingQuestion.question_id,
            SittingQuestion.question_digest,
            SittingQuestion.marks,
        )
        .where(SittingQuestion.shop_id == shop_id)
        .order_by(SittingQuestion.sitting_id, SittingQuestion.position)
    )
    return list(map(Presented._make, rows))


def results(session: Session, shop_id: UUID) -> dict[str, dict[str, Any]]:
    """Return the result of every submitted sitting, by the sitting's id as text."""
    rows = session.execute(
        select(cast(Sitting.id, Text), Sitting.result).where(
            Sitting.shop_id == shop_id, Sitting.result.is_not(None)
        )
    )
    return {row[0]: row[1] for row in rows}


def response_texts(session: Session, shop_id: UUID) -> dict[tuple[str, str], str]:
    """Return the latest response to each question of each sitting as its canonical JSON text.

    There are few different texts among many answers, so whoever reads them
    parses each text once.
    """
    rows = session.execute(
        select(
            cast(Answer.sitting_id, Text), Answer.question_id, type_coerce(Answer.response, Text)
        )
        .where(Answer.shop_id == shop_id)
        .order_by(Answer.sitting_id, Answer.number)
    )
    return {(row[0], row[1]): row[2] for row in rows}


def dispute_counts(session: Session, shop_id: UUID) -> dict[str, DisputeCount]:
    """Return what became of disputes, by wording."""
    rows = session.execute(
        select(Dispute.question_digest, Dispute.decided_at, Dispute.voided).where(
            Dispute.shop_id == shop_id
        )
    )
    of_wording: dict[str, list[Any]] = defaultdict(list)
    for row in rows:
        of_wording[row.question_digest].append(row)
    return {wording: _counted(disputes) for wording, disputes in of_wording.items()}


def form_with(
    session: Session, shop_id: UUID, wordings: Collection[str]
) -> dict[str, dict[str, Any]]:
    """Return for each wording one stored form that holds it."""
    found = select(
        SittingQuestion.question_digest, func.max(cast(SittingQuestion.sitting_id, Text))
    ).where(SittingQuestion.shop_id == shop_id, SittingQuestion.question_digest.in_(wordings))
    holding = {
        row[0]: row[1] for row in session.execute(found.group_by(SittingQuestion.question_digest))
    }
    forms = session.execute(
        select(cast(Sitting.id, Text), Sitting.form).where(
            Sitting.shop_id == shop_id, cast(Sitting.id, Text).in_(set(holding.values()))
        )
    )
    by_sitting = {row[0]: row[1] for row in forms}
    return {wording: by_sitting[sitting] for wording, sitting in holding.items()}


def _counted(disputes: Sequence[Any]) -> DisputeCount:
    return DisputeCount(
        raised=len(disputes),
        open=sum(row.decided_at is None for row in disputes),
        voided=any(row.voided for row in disputes),
    )
