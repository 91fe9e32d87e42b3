"""Practicals, their steps, photographs, and the signed records."""

from __future__ import annotations

from datetime import datetime
from typing import Any
from uuid import UUID

from sqlalchemy import ForeignKey, ForeignKeyConstraint, Index, String, Text
from sqlalchemy.orm import Mapped, mapped_column

from academy.domain.practical.stages import PracticalKind, Stage
from academy.store.tables.base import Base, Digest, OwnKey, ShopKey
from academy.store.types import CanonicalJson, word


class Practical(Base):
    """One supervised piece of panel work; the steps below are the document.

    ``task`` is the task exactly as it stood when the practical was opened, and
    ``stages`` are the stages it asked for then, in order.
    """

    __tablename__ = "practicals"
    shop_id: Mapped[ShopKey]
    id: Mapped[OwnKey]
    trainee_id: Mapped[UUID] = mapped_column(ForeignKey("people.id"))
    supervisor_id: Mapped[UUID] = mapped_column(ForeignKey("people.id"))
    section_id: Mapped[UUID]
    gauge_id: Mapped[UUID | None]
    task_id: Mapped[str] = mapped_column(String(100))
    task: Mapped[dict[str, Any]] = mapped_column(CanonicalJson)
    task_digest: Mapped[Digest]
    stages: Mapped[list[str]] = mapped_column(CanonicalJson, server_default="[]")
    kind: Mapped[PracticalKind] = mapped_column(word(PracticalKind))
    opened_at: Mapped[datetime]
    closed_at: Mapped[datetime | None]
    signed_at: Mapped[datetime | None]
    __table_args__ = (
        ForeignKeyConstraint(["shop_id", "section_id"], ["sections.shop_id", "sections.id"]),
        ForeignKeyConstraint(["shop_id", "gauge_id"], ["gauges.shop_id", "gauges.id"]),
        Index(None, "shop_id", "trainee_id", "opened_at"),
        Index(None, "shop_id", "supervisor_id", "opened_at"),
    )


class PracticalStep(Base):
    """One step of a practical, numbered from 1; never changed once written."""

    __tablename__ = "practical_steps"
    shop_id: Mapped[ShopKey]
    id: Mapped[OwnKey]
    practical_id: Mapped[UUID]
    number: Mapped[int]
    stage: Mapped[Stage] = mapped_column(word(Stage))
    body: Mapped[dict[str, Any]] = mapped_column(CanonicalJson)
    recorded_at: Mapped[datetime]
    recorded_by: Mapped[UUID] = mapped_column(ForeignKey("people.id"))
    __table_args__ = (
        ForeignKeyConstraint(["shop_id", "practical_id"], ["practicals.shop_id", "practicals.id"]),
        Index(None, "shop_id", "practical_id", "number", unique=True),
    )


class Photograph(Base):
    """A photograph of a practical; the picture lies in the file store under its digest.

    ``stage`` is the one it belongs to; None shows something else.
    """

    __tablename__ = "photographs"
    shop_id: Mapped[ShopKey]
    id: Mapped[OwnKey]
    practical_id: Mapped[UUID]
    digest: Mapped[Digest]
    stage: Mapped[Stage | None] = mapped_column(word(Stage))
    caption: Mapped[str] = mapped_column(String(300))
    taken_by: Mapped[UUID] = mapped_column(ForeignKey("people.id"))
    taken_at: Mapped[datetime]
    __table_args__ = (
        ForeignKeyConstraint(["shop_id", "practical_id"], ["practicals.shop_id", "practicals.id"]),
        Index(None, "shop_id", "practical_id"),
    )


class SignedRecord(Base):
    """The frozen record of one practical.  ``salts`` opens the salted digests of its texts.

    ``trainee_present`` is unknown in records closed before it was asked.
    """

    __tablename__ = "signed_records"
    shop_id: Mapped[ShopKey]
    id: Mapped[OwnKey]
    practical_id: Mapped[UUID]
    record: Mapped[dict[str, Any]] = mapped_column(CanonicalJson)
    digest: Mapped[Digest]
    salts: Mapped[dict[str, Any]] = mapped_column(CanonicalJson)
    frozen_at: Mapped[datetime]
    supersedes_id: Mapped[UUID | None]
    trainee_present: Mapped[bool | None]
    absence_reason: Mapped[str | None] = mapped_column(Text)
    __table_args__ = (
        ForeignKeyConstraint(["shop_id", "practical_id"], ["practicals.shop_id", "practicals.id"]),
        ForeignKeyConstraint(
            ["shop_id", "supersedes_id"], ["signed_records.shop_id", "signed_records.id"]
        ),
        Index(None, "shop_id", "practical_id"),
    )


class Signature(Base):
    """One person's signature on one frozen record: who, when, what it means, and over which digest.

    ``late_reason`` says why it was not signed on the day it was closed.
    """

    __tablename__ = "signatures"
    shop_id: Mapped[ShopKey]
    id: Mapped[OwnKey]
    record_id: Mapped[UUID]
    record_digest: Mapped[Digest]
    person_id: Mapped[UUID] = mapped_column(ForeignKey("people.id"))
    meaning: Mapped[str] = mapped_column(String(40))
    signed_at: Mapped[datetime]
    proved_by: Mapped[str] = mapped_column(String(40))
    late_reason: Mapped[str | None] = mapped_column(Text)
    late_salt: Mapped[str | None] = mapped_column(String(32))
    __table_args__ = (
        ForeignKeyConstraint(
            ["shop_id", "record_id"], ["signed_records.shop_id", "signed_records.id"]
        ),
        Index(None, "shop_id", "record_id", "person_id", "meaning", unique=True),
    )
