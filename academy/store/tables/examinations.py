"""Spoken answers, questions that were questioned, prior experience, answers entered from paper."""

from __future__ import annotations

from datetime import datetime
from typing import Any
from uuid import UUID

from sqlalchemy import ForeignKey, ForeignKeyConstraint, Index, String, Text
from sqlalchemy.orm import Mapped, mapped_column

from academy.store.tables.base import Base, Digest, OwnKey, ShopKey
from academy.store.types import CanonicalJson


class SpokenAnswer(Base):
    """The answer to one prepared question after a result near the cut, with the question as asked."""

    __tablename__ = "spoken_answers"
    shop_id: Mapped[ShopKey]
    id: Mapped[OwnKey]
    sitting_id: Mapped[UUID]
    spoken_id: Mapped[str] = mapped_column(String(100))
    question: Mapped[dict[str, Any]] = mapped_column(CanonicalJson)
    answer: Mapped[str] = mapped_column(Text)
    satisfactory: Mapped[bool]
    asked_by: Mapped[UUID] = mapped_column(ForeignKey("people.id"))
    asked_at: Mapped[datetime]
    __table_args__ = (
        ForeignKeyConstraint(["shop_id", "sitting_id"], ["sittings.shop_id", "sittings.id"]),
        Index(None, "shop_id", "sitting_id", "spoken_id", unique=True),
    )


class Dispute(Base):
    """A question a person has questioned; somebody who neither wrote nor examined decides."""

    __tablename__ = "disputes"
    shop_id: Mapped[ShopKey]
    id: Mapped[OwnKey]
    sitting_id: Mapped[UUID]
    question_id: Mapped[str] = mapped_column(String(100))
    question_digest: Mapped[Digest]
    raised_by: Mapped[UUID] = mapped_column(ForeignKey("people.id"))
    raised_at: Mapped[datetime]
    reason: Mapped[str] = mapped_column(Text)
    decided_by: Mapped[UUID | None] = mapped_column(ForeignKey("people.id"))
    decided_at: Mapped[datetime | None]
    voided: Mapped[bool | None]
    decision: Mapped[str | None] = mapped_column(Text)
    __table_args__ = (
        ForeignKeyConstraint(["shop_id", "sitting_id"], ["sittings.shop_id", "sittings.id"]),
        Index(None, "shop_id", "sitting_id", "question_id", "raised_by", unique=True),
        Index(None, "shop_id", "decided_at"),
    )


class PriorExperience(Base):
    """Stated prior experience: the lessons of these modules may be skipped, nothing else."""

    __tablename__ = "prior_experiences"
    shop_id: Mapped[ShopKey]
    id: Mapped[OwnKey]
    person_id: Mapped[UUID] = mapped_column(ForeignKey("people.id"))
    modules: Mapped[list[str]] = mapped_column(CanonicalJson)
    statement: Mapped[str] = mapped_column(Text)
    recorded_by: Mapped[UUID] = mapped_column(ForeignKey("people.id"))
    recorded_at: Mapped[datetime]
    __table_args__ = (Index(None, "shop_id", "person_id"),)


class PaperEntry(Base):
    """One person's reading of an examination written on paper; two have to agree."""

    __tablename__ = "paper_entries"
    shop_id: Mapped[ShopKey]
    id: Mapped[OwnKey]
    sitting_id: Mapped[UUID]
    entered_by: Mapped[UUID] = mapped_column(ForeignKey("people.id"))
    responses: Mapped[dict[str, Any]] = mapped_column(CanonicalJson)
    entered_at: Mapped[datetime]
    __table_args__ = (
        ForeignKeyConstraint(["shop_id", "sitting_id"], ["sittings.shop_id", "sittings.id"]),
        Index(None, "shop_id", "sitting_id", "entered_by", unique=True),
    )
