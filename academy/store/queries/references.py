"""Reference panels, and how supervisors judged them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from uuid import UUID

from sqlalchemy import select
from sqlalchemy.orm import Session

from academy.domain.people.roles import Role
from academy.domain.practical.signatures import Meaning
from academy.domain.practical.stages import PracticalKind
from academy.store.tables.judgement import ReferenceJudgement, ReferencePanel
from academy.store.tables.people import Membership, MembershipRole
from academy.store.tables.practicals import Practical, Signature, SignedRecord
from academy.store.tables.workshop import Panel, Section


@dataclass(frozen=True, slots=True)
class ReferenceRow:
    """One reference panel; ``criteria`` maps an id to its text and whether it is critical."""

    id: UUID
    label: str
    section_name: str
    task_id: str
    criteria: Mapping[str, tuple[str, bool]]
    agreed: Mapping[str, bool]
    agreed_by: frozenset[UUID]
    made_at: datetime
    retired_at: datetime | None


@dataclass(frozen=True, slots=True)
class JudgementRow:
    """How one person judged one reference panel in one round."""

    id: UUID
    reference_id: UUID
    round: int
    met: Mapping[str, bool]
    judged_at: datetime


def references(session: Session, shop_id: UUID) -> Sequence[ReferenceRow]:
    """Return every reference panel a shop ever kept, by label."""
    rows = session.execute(
        select(ReferencePanel, Panel.label, Section.label)
        .join(
            Section,
            (Section.shop_id == ReferencePanel.shop_id) & (Section.id == ReferencePanel.section_id),
        )
        .join(Panel, (Panel.shop_id == Section.shop_id) & (Panel.id == Section.panel_id))
        .where(ReferencePanel.shop_id == shop_id)
        .order_by(ReferencePanel.label, ReferencePanel.id)
    )
    return [
        ReferenceRow(
            row.id,
            row.label,
            f"{panel}, {section}",
            row.task_id,
            {c["id"]: (c["text"], c["critical"]) for c in row.criteria},
            row.agreed,
            frozenset(UUID(one) for one in row.agreed_by),
            row.made_at,
            row.retired_at,
        )
        for row, panel, section in rows
    ]


def judgements_by(session: Session, shop_id: UUID, person_id: UUID) -> Sequence[JudgementRow]:
    """Return how one person judged the reference panels, oldest first."""
    rows = session.execute(
        select(
            ReferenceJudgement.id,
            ReferenceJudgement.reference_id,
            ReferenceJudgement.round,
            ReferenceJudgement.met,
            ReferenceJudgement.judged_at,
        )
        .where(ReferenceJudgement.shop_id == shop_id, ReferenceJudgement.person_id == person_id)
        .order_by(ReferenceJudgement.round, ReferenceJudgement.judged_at)
    )
    return [JudgementRow(*row) for row in rows]


def first_supervisors(session: Session, shop_id: UUID) -> frozenset[UUID]:
    """Return who became a supervisor of the shop before everybody else."""
    rows = session.execute(
        select(Membership.person_id, Membership.joined_at)
        .join(
            MembershipRole,
            (MembershipRole.shop_id == Membership.shop_id)
            & (MembershipRole.person_id == Membership.person_id),
        )
        .where(Membership.shop_id == shop_id, MembershipRole.role == Role.SUPERVISOR)
    ).all()
    first = min((joined for _, joined in rows), default=None)
    return frozenset(person for person, joined in rows if joined == first)


def first_assessed_at(session: Session, shop_id: UUID, person_id: UUID) -> datetime | None:
    """Return when somebody first signed an assessed practical here, or None."""
    return session.scalars(
        select(Signature.signed_at)
        .join(
            SignedRecord,
            (SignedRecord.shop_id == Signature.shop_id) & (SignedRecord.id == Signature.record_id),
        )
        .join(
            Practical,
            (Practical.shop_id == SignedRecord.shop_id)
            & (Practical.id == SignedRecord.practical_id),
        )
        .where(
            Signature.shop_id == shop_id,
            Signature.person_id == person_id,
            Signature.meaning == Meaning.ASSESSED,
            Practical.kind == PracticalKind.ASSESSED,
        )
        .order_by(Signature.signed_at)
        .limit(1)
    ).one_or_none()
