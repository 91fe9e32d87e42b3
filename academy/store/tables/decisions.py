"""What people decide about certificates: decisions, withdrawals, restrictions, return checks, versions.

Each is signed with a password and journaled.  Reasons are texts: the journal
holds their salted digests, ``salt`` opens them.
"""

from __future__ import annotations

from datetime import date, datetime
from typing import Any
from uuid import UUID

from sqlalchemy import CheckConstraint, Date, ForeignKey, Index, String, Text
from sqlalchemy.orm import Mapped, mapped_column

from academy.domain.curriculum.kinds import Supervision
from academy.store.tables.base import Base, Digest, OwnKey, ShopKey
from academy.store.types import CanonicalJson, word


class CertificateDecision(Base):
    """One decision; without ``valid_until`` it was decided against, and the reason says why.

    ``evidence`` is what was shown to whoever decided, as it stood.
    """

    __tablename__ = "certificate_decisions"
    shop_id: Mapped[ShopKey]
    id: Mapped[OwnKey]
    person_id: Mapped[UUID] = mapped_column(ForeignKey("people.id"))
    scheme_id: Mapped[str] = mapped_column(String(100))
    scheme_digest: Mapped[Digest]
    level: Mapped[Supervision] = mapped_column(word(Supervision, "level"))
    valid_until: Mapped[date | None] = mapped_column(Date)
    evidence: Mapped[dict[str, Any]] = mapped_column(CanonicalJson)
    reason: Mapped[str] = mapped_column(Text)
    salt: Mapped[str] = mapped_column(String(64))
    decided_by: Mapped[UUID] = mapped_column(ForeignKey("people.id"))
    decided_at: Mapped[datetime]
    proved_by: Mapped[str] = mapped_column(String(40))
    __table_args__ = (
        CheckConstraint("level <> 'not yet'", name="some_level"),
        Index(None, "shop_id", "person_id", "scheme_id"),
    )


class CertificateWithdrawal(Base):
    """A certificate taken back."""

    __tablename__ = "certificate_withdrawals"
    shop_id: Mapped[ShopKey]
    id: Mapped[OwnKey]
    person_id: Mapped[UUID] = mapped_column(ForeignKey("people.id"))
    scheme_id: Mapped[str] = mapped_column(String(100))
    reason: Mapped[str] = mapped_column(Text)
    salt: Mapped[str] = mapped_column(String(64))
    withdrawn_by: Mapped[UUID] = mapped_column(ForeignKey("people.id"))
    withdrawn_at: Mapped[datetime]
    proved_by: Mapped[str] = mapped_column(String(40))
    __table_args__ = (Index(None, "shop_id", "person_id"),)


class WorkRestriction(Base):
    """A person, a kind of work, or one person at one kind of work, held at a level.

    Without ``person_id`` it means everybody, without ``scheme_id`` every kind.
    """

    __tablename__ = "work_restrictions"
    shop_id: Mapped[ShopKey]
    id: Mapped[OwnKey]
    person_id: Mapped[UUID | None] = mapped_column(ForeignKey("people.id"))
    scheme_id: Mapped[str | None] = mapped_column(String(100))
    level: Mapped[Supervision] = mapped_column(word(Supervision, "level"))
    reason: Mapped[str] = mapped_column(Text)
    salt: Mapped[str] = mapped_column(String(64))
    review_on: Mapped[date] = mapped_column(Date)
    restricted_by: Mapped[UUID] = mapped_column(ForeignKey("people.id"))
    since: Mapped[datetime]
    proved_by: Mapped[str] = mapped_column(String(40))
    lifted_by: Mapped[UUID | None] = mapped_column(ForeignKey("people.id"))
    lifted_at: Mapped[datetime | None]
    __table_args__ = (
        CheckConstraint("person_id IS NOT NULL OR scheme_id IS NOT NULL", name="somebody"),
        CheckConstraint("level <> 'alone'", name="lowers"),
        CheckConstraint("(lifted_by IS NULL) = (lifted_at IS NULL)", name="lifted"),
        Index(None, "shop_id", "person_id"),
    )


class ReturnCheckRow(Base):
    """Somebody was seen at this work again after a long time without it."""

    __tablename__ = "return_checks"
    shop_id: Mapped[ShopKey]
    id: Mapped[OwnKey]
    person_id: Mapped[UUID] = mapped_column(ForeignKey("people.id"))
    scheme_id: Mapped[str] = mapped_column(String(100))
    saw: Mapped[str] = mapped_column(Text)
    salt: Mapped[str] = mapped_column(String(64))
    checked_by: Mapped[UUID] = mapped_column(ForeignKey("people.id"))
    checked_at: Mapped[datetime]
    proved_by: Mapped[str] = mapped_column(String(40))
    __table_args__ = (Index(None, "shop_id", "person_id"),)


class SchemeAdoption(Base):
    """From which day a version of a scheme rules a shop.

    Nobody adopted the first: it is the one the shop began to work by.
    """

    __tablename__ = "scheme_adoptions"
    shop_id: Mapped[ShopKey]
    id: Mapped[OwnKey]
    scheme_id: Mapped[str] = mapped_column(String(100))
    digest: Mapped[str] = mapped_column(ForeignKey("frozen_documents.digest"))
    applies_from: Mapped[date] = mapped_column(Date)
    adopted_by: Mapped[UUID | None] = mapped_column(ForeignKey("people.id"))
    adopted_at: Mapped[datetime]
    __table_args__ = (Index(None, "shop_id", "scheme_id", "applies_from"),)
