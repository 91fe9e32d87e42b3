"""What follows a closed record: amendments, objections, second judgements, re-teach plans, reference panels."""

from __future__ import annotations

from datetime import date, datetime
from typing import Any
from uuid import UUID

from sqlalchemy import CheckConstraint, ForeignKey, ForeignKeyConstraint, Index, String, Text
from sqlalchemy.orm import Mapped, mapped_column

from academy.domain.practical.counting import ObjectionState
from academy.store.tables.base import Base, Name, OwnKey, ShopKey
from academy.store.types import CanonicalJson, word


class Amendment(Base):
    """Who made a record that supersedes another, and why; the record itself names the other's digest."""

    __tablename__ = "amendments"
    shop_id: Mapped[ShopKey]
    record_id: Mapped[UUID] = mapped_column(primary_key=True)
    amended_by: Mapped[UUID] = mapped_column(ForeignKey("people.id"))
    reason: Mapped[str] = mapped_column(Text)
    __table_args__ = (
        ForeignKeyConstraint(
            ["shop_id", "record_id"], ["signed_records.shop_id", "signed_records.id"]
        ),
    )


class Objection(Base):
    """A trainee objects to a closed record; somebody who neither taught nor assessed decides.

    ``salt`` opens the digests under which both texts stand in the journal.
    """

    __tablename__ = "objections"
    shop_id: Mapped[ShopKey]
    id: Mapped[OwnKey]
    practical_id: Mapped[UUID]
    record_id: Mapped[UUID]
    raised_by: Mapped[UUID] = mapped_column(ForeignKey("people.id"))
    raised_at: Mapped[datetime]
    reason: Mapped[str] = mapped_column(Text)
    salt: Mapped[str] = mapped_column(String(32))
    state: Mapped[ObjectionState] = mapped_column(word(ObjectionState))
    decided_by: Mapped[UUID | None] = mapped_column(ForeignKey("people.id"))
    decided_at: Mapped[datetime | None]
    decision: Mapped[str | None] = mapped_column(Text)
    __table_args__ = (
        ForeignKeyConstraint(["shop_id", "practical_id"], ["practicals.shop_id", "practicals.id"]),
        ForeignKeyConstraint(
            ["shop_id", "record_id"], ["signed_records.shop_id", "signed_records.id"]
        ),
        CheckConstraint(
            "(decided_at IS NULL) = (decided_by IS NULL)"
            " AND (decided_at IS NULL) = (decision IS NULL)",
            name="decided",
        ),
        Index(None, "shop_id", "record_id", unique=True),
    )


class SecondJudgement(Base):
    """A signed record that chance drew to be judged again, blind.

    ``seed`` is the recorded chance.  ``seen_by`` are the people who asked to
    see the first judgement and can no longer judge blind.  ``answers`` holds a
    word for each criterion.
    """

    __tablename__ = "second_judgements"
    shop_id: Mapped[ShopKey]
    id: Mapped[OwnKey]
    practical_id: Mapped[UUID]
    record_id: Mapped[UUID]
    seed: Mapped[str] = mapped_column(String(64))
    drawn_at: Mapped[datetime]
    seen_by: Mapped[list[str]] = mapped_column(CanonicalJson)
    answers: Mapped[dict[str, Any] | None] = mapped_column(CanonicalJson)
    judged_by: Mapped[UUID | None] = mapped_column(ForeignKey("people.id"))
    judged_at: Mapped[datetime | None]
    __table_args__ = (
        ForeignKeyConstraint(["shop_id", "practical_id"], ["practicals.shop_id", "practicals.id"]),
        ForeignKeyConstraint(
            ["shop_id", "record_id"], ["signed_records.shop_id", "signed_records.id"]
        ),
        CheckConstraint("(judged_at IS NULL) = (judged_by IS NULL)", name="judged"),
        Index(None, "shop_id", "record_id", unique=True),
    )


class ReteachPlan(Base):
    """What is taught again after an assessed practical that was not yet competent."""

    __tablename__ = "reteach_plans"
    shop_id: Mapped[ShopKey]
    id: Mapped[OwnKey]
    practical_id: Mapped[UUID]
    trainee_id: Mapped[UUID] = mapped_column(ForeignKey("people.id"))
    task_id: Mapped[str] = mapped_column(String(100))
    objective: Mapped[str] = mapped_column(Text)
    drill_id: Mapped[str] = mapped_column(String(100))
    responsible_id: Mapped[UUID] = mapped_column(ForeignKey("people.id"))
    due_on: Mapped[date]
    made_at: Mapped[datetime]
    made_by: Mapped[UUID] = mapped_column(ForeignKey("people.id"))
    changed_at: Mapped[datetime | None]
    changed_by: Mapped[UUID | None] = mapped_column(ForeignKey("people.id"))
    __table_args__ = (
        ForeignKeyConstraint(["shop_id", "practical_id"], ["practicals.shop_id", "practicals.id"]),
        Index(None, "shop_id", "practical_id", unique=True),
        Index(None, "shop_id", "trainee_id", "task_id"),
    )


class ReferencePanel(Base):
    """A section kept to judge by: what the people named in ``agreed_by`` agreed on, criterion by criterion.

    ``criteria`` are the task's criteria as they stood.
    """

    __tablename__ = "reference_panels"
    shop_id: Mapped[ShopKey]
    id: Mapped[OwnKey]
    section_id: Mapped[UUID]
    label: Mapped[Name]
    task_id: Mapped[str] = mapped_column(String(100))
    criteria: Mapped[list[dict[str, Any]]] = mapped_column(CanonicalJson)
    agreed: Mapped[dict[str, Any]] = mapped_column(CanonicalJson)
    agreed_by: Mapped[list[str]] = mapped_column(CanonicalJson)
    made_at: Mapped[datetime]
    made_by: Mapped[UUID] = mapped_column(ForeignKey("people.id"))
    retired_at: Mapped[datetime | None]
    __table_args__ = (
        ForeignKeyConstraint(["shop_id", "section_id"], ["sections.shop_id", "sections.id"]),
    )


class ReferenceJudgement(Base):
    """How one person judged one reference panel in one round, before seeing what was agreed."""

    __tablename__ = "reference_judgements"
    shop_id: Mapped[ShopKey]
    id: Mapped[OwnKey]
    reference_id: Mapped[UUID]
    person_id: Mapped[UUID] = mapped_column(ForeignKey("people.id"))
    round: Mapped[int]
    met: Mapped[dict[str, Any]] = mapped_column(CanonicalJson)
    judged_at: Mapped[datetime]
    __table_args__ = (
        ForeignKeyConstraint(
            ["shop_id", "reference_id"], ["reference_panels.shop_id", "reference_panels.id"]
        ),
        Index(None, "shop_id", "person_id", "reference_id", "round", unique=True),
    )
