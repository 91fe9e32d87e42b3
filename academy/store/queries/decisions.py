"""What was decided about certificates, as rows of a person or a shop."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any
from uuid import UUID

from sqlalchemy import or_, select
from sqlalchemy.orm import Session, aliased

from academy.domain.curriculum.kinds import Supervision
from academy.store.tables.certification import FrozenDocument
from academy.store.tables.decisions import (
    CertificateDecision,
    CertificateWithdrawal,
    ReturnCheckRow,
    SchemeAdoption,
    WorkRestriction,
)
from academy.store.tables.people import Person


@dataclass(frozen=True, slots=True)
class DecisionRow:
    """One decision with the name of who decided."""

    id: UUID
    person_id: UUID
    scheme_id: str
    scheme_digest: str
    level: Supervision
    valid_until: date | None
    evidence: dict[str, Any]
    reason: str
    decided_by: UUID
    decided_by_name: str
    decided_at: datetime

    @property
    def by_trainer(self) -> bool:
        """Return whether whoever decided had trained or assessed the person too."""
        worked_with = {*self.evidence["trained_by"], *self.evidence["assessed_by"]}
        return str(self.decided_by) in worked_with


@dataclass(frozen=True, slots=True)
class RestrictionRow:
    """One restriction with names; ``person_name`` is None where it means everybody."""

    id: UUID
    person_id: UUID | None
    person_name: str | None
    scheme_id: str | None
    level: Supervision
    reason: str
    review_on: date
    restricted_by_name: str
    since: datetime
    lifted_at: datetime | None


@dataclass(frozen=True, slots=True)
class SignedAct:
    """A withdrawal or a return check: of which scheme, when, by whom, in which words."""

    scheme_id: str
    at: datetime
    by_name: str
    says: str


@dataclass(frozen=True, slots=True)
class AdoptionRow:
    """From which day a version rules."""

    scheme_id: str
    digest: str
    applies_from: date
    adopted_by: UUID | None
    adopted_at: datetime


def decisions_of(session: Session, shop_id: UUID, person_id: UUID) -> Sequence[DecisionRow]:
    """Return every decision about a person, oldest first."""
    return _decisions(
        session,
        CertificateDecision.shop_id == shop_id,
        CertificateDecision.person_id == person_id,
    )


def decision(session: Session, shop_id: UUID, decision_id: UUID) -> DecisionRow | None:
    """Return one decision of a shop, or None."""
    found = _decisions(
        session, CertificateDecision.shop_id == shop_id, CertificateDecision.id == decision_id
    )
    return found[0] if found else None


def _decisions(session: Session, *where: Any) -> list[DecisionRow]:
    rows = session.execute(
        select(
            CertificateDecision.id,
            CertificateDecision.person_id,
            CertificateDecision.scheme_id,
            CertificateDecision.scheme_digest,
            CertificateDecision.level,
            CertificateDecision.valid_until,
            CertificateDecision.evidence,
            CertificateDecision.reason,
            CertificateDecision.decided_by,
            Person.name,
            CertificateDecision.decided_at,
        )
        .join(Person, Person.id == CertificateDecision.decided_by)
        .where(*where)
        .order_by(CertificateDecision.decided_at, CertificateDecision.id)
    )
    return [DecisionRow(*row) for row in rows]


def restrictions(
    session: Session, shop_id: UUID, person_id: UUID | None = None
) -> Sequence[RestrictionRow]:
    """Return a shop's restrictions, newest first; of one person with those that mean everybody."""
    held, by = aliased(Person), aliased(Person)
    query = (
        select(
            WorkRestriction.id,
            WorkRestriction.person_id,
            held.name,
            WorkRestriction.scheme_id,
            WorkRestriction.level,
            WorkRestriction.reason,
            WorkRestriction.review_on,
            by.name.label("by_name"),
            WorkRestriction.since,
            WorkRestriction.lifted_at,
        )
        .outerjoin(held, held.id == WorkRestriction.person_id)
        .join(by, by.id == WorkRestriction.restricted_by)
        .where(WorkRestriction.shop_id == shop_id)
        .order_by(WorkRestriction.since.desc(), WorkRestriction.id)
    )
    if person_id is not None:
        query = query.where(
            or_(WorkRestriction.person_id == person_id, WorkRestriction.person_id.is_(None))
        )
    rows: Sequence[Any] = session.execute(query).all()
    return [RestrictionRow(*row) for row in rows]


def withdrawals_of(session: Session, shop_id: UUID, person_id: UUID) -> Sequence[SignedAct]:
    """Return what was withdrawn from a person, oldest first."""
    rows = session.execute(
        select(
            CertificateWithdrawal.scheme_id,
            CertificateWithdrawal.withdrawn_at,
            Person.name,
            CertificateWithdrawal.reason,
        )
        .join(Person, Person.id == CertificateWithdrawal.withdrawn_by)
        .where(
            CertificateWithdrawal.shop_id == shop_id, CertificateWithdrawal.person_id == person_id
        )
        .order_by(CertificateWithdrawal.withdrawn_at)
    )
    return [SignedAct(*row) for row in rows]


def return_checks_of(session: Session, shop_id: UUID, person_id: UUID) -> Sequence[SignedAct]:
    """Return a person's return checks, oldest first."""
    rows = session.execute(
        select(ReturnCheckRow.scheme_id, ReturnCheckRow.checked_at, Person.name, ReturnCheckRow.saw)
        .join(Person, Person.id == ReturnCheckRow.checked_by)
        .where(ReturnCheckRow.shop_id == shop_id, ReturnCheckRow.person_id == person_id)
        .order_by(ReturnCheckRow.checked_at)
    )
    return [SignedAct(*row) for row in rows]


def adoptions(session: Session, shop_id: UUID) -> Sequence[AdoptionRow]:
    """Return from when which version of each scheme rules, in the order it was adopted."""
    rows = session.execute(
        select(
            SchemeAdoption.scheme_id,
            SchemeAdoption.digest,
            SchemeAdoption.applies_from,
            SchemeAdoption.adopted_by,
            SchemeAdoption.adopted_at,
        )
        .where(SchemeAdoption.shop_id == shop_id)
        .order_by(SchemeAdoption.adopted_at, SchemeAdoption.id)
    )
    return [AdoptionRow(*row) for row in rows]


def frozen_body(session: Session, digest: str) -> dict[str, Any] | None:
    """Return a kept document, or None."""
    row = session.get(FrozenDocument, digest)
    return row.body if row else None
