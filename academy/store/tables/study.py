"""Lessons read, sittings of a quiz, and every answer as it was given."""

from __future__ import annotations

from datetime import datetime
from typing import Any
from uuid import UUID

from sqlalchemy import ForeignKey, ForeignKeyConstraint, Index, String
from sqlalchemy.orm import Mapped, mapped_column

from academy.store.tables.base import Base, Digest, OwnKey, ShopKey
from academy.store.types import CanonicalJson


class LessonRead(Base):
    """A lesson a person has finished, with the digest of what stood there."""

    __tablename__ = "lessons_read"
    shop_id: Mapped[ShopKey]
    id: Mapped[OwnKey]
    person_id: Mapped[UUID] = mapped_column(ForeignKey("people.id"))
    module_id: Mapped[str] = mapped_column(String(100))
    lesson_id: Mapped[str] = mapped_column(String(100))
    lesson_digest: Mapped[Digest]
    finished_at: Mapped[datetime]
    __table_args__ = (Index(None, "shop_id", "person_id", "module_id", "lesson_id"),)


class Sitting(Base):
    """One sitting: the form with its exact wording, and the result once submitted.

    ``form`` is frozen JSON and ``form_digest`` its digest.  Points are percent
    of a question, so that the cut score is an integer.  For an examination
    ``module_id`` is empty, ``scheme_id`` names the scheme, ``examination`` holds
    its minutes, language and adjustments, and ``begun_at`` starts its clock.
    One that nobody began can be withdrawn and counts for nothing.  ``passed`` stays empty while a result near the cut waits for spoken answers.
    """

    __tablename__ = "sittings"
    shop_id: Mapped[ShopKey]
    id: Mapped[OwnKey]
    person_id: Mapped[UUID] = mapped_column(ForeignKey("people.id"))
    module_id: Mapped[str] = mapped_column(String(100))
    purpose: Mapped[str] = mapped_column(String(40))
    form: Mapped[dict[str, Any]] = mapped_column(CanonicalJson)
    form_digest: Mapped[Digest]
    opened_at: Mapped[datetime]
    submitted_at: Mapped[datetime | None]
    result: Mapped[dict[str, Any] | None] = mapped_column(CanonicalJson)
    passed: Mapped[bool | None]
    examination: Mapped[dict[str, Any] | None] = mapped_column(CanonicalJson)
    scheme_id: Mapped[str | None] = mapped_column(String(100))
    opened_by: Mapped[UUID | None] = mapped_column(ForeignKey("people.id"))
    begun_at: Mapped[datetime | None]
    withdrawn_at: Mapped[datetime | None]
    __table_args__ = (Index(None, "shop_id", "person_id", "module_id", "submitted_at"),)


class SittingQuestion(Base):
    """One question of a form, and what it earned once the sitting was submitted."""

    __tablename__ = "sitting_questions"
    shop_id: Mapped[ShopKey]
    sitting_id: Mapped[OwnKey]
    position: Mapped[int] = mapped_column(primary_key=True)
    question_id: Mapped[str] = mapped_column(String(100))
    question_digest: Mapped[Digest]
    marks: Mapped[int | None]
    __table_args__ = (
        ForeignKeyConstraint(["shop_id", "sitting_id"], ["sittings.shop_id", "sittings.id"]),
        Index(None, "shop_id", "question_id"),
    )


class Answer(Base):
    """One answer, saved the moment it is given.  A later answer stands beside it, never over it."""

    __tablename__ = "answers"
    shop_id: Mapped[ShopKey]
    id: Mapped[OwnKey]
    sitting_id: Mapped[UUID]
    number: Mapped[int]
    question_id: Mapped[str] = mapped_column(String(100))
    response: Mapped[dict[str, Any]] = mapped_column(CanonicalJson)
    answered_at: Mapped[datetime]
    __table_args__ = (
        ForeignKeyConstraint(["shop_id", "sitting_id"], ["sittings.shop_id", "sittings.id"]),
        Index(None, "shop_id", "sitting_id", "number", unique=True),
    )
