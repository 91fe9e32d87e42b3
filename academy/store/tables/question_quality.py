"""What an owner decides about questions, and rounds in which supervisors rate them again."""

from __future__ import annotations

from datetime import datetime
from typing import Any
from uuid import UUID

from sqlalchemy import CheckConstraint, ForeignKey, ForeignKeyConstraint, Index, String, Text
from sqlalchemy.orm import Mapped, mapped_column

from academy.domain.assessment.mending_notes import Mending
from academy.store.tables.base import Base, Digest, OwnKey, ShopKey
from academy.store.types import CanonicalJson, word


class MendingNote(Base):
    """What was decided about one wording of a question that had to be looked at; the newest stands."""

    __tablename__ = "mending_notes"
    shop_id: Mapped[ShopKey]
    id: Mapped[OwnKey]
    question_id: Mapped[str] = mapped_column(String(100))
    question_digest: Mapped[Digest]
    mending: Mapped[Mending] = mapped_column(word(Mending))
    reason: Mapped[str] = mapped_column(Text)
    noted_by: Mapped[UUID] = mapped_column(ForeignKey("people.id"))
    noted_at: Mapped[datetime]
    __table_args__ = (Index(None, "shop_id", "question_digest"),)


class RatingRound(Base):
    """One round: opened, then with the spread in sight, then its ratings taken over."""

    __tablename__ = "rating_rounds"
    shop_id: Mapped[ShopKey]
    id: Mapped[OwnKey]
    module_id: Mapped[str] = mapped_column(String(100))
    opened_by: Mapped[UUID] = mapped_column(ForeignKey("people.id"))
    opened_at: Mapped[datetime]
    shown_at: Mapped[datetime | None]
    taken_over_at: Mapped[datetime | None]
    taken_over_by: Mapped[UUID | None] = mapped_column(ForeignKey("people.id"))
    __table_args__ = (Index(None, "shop_id", "opened_at"),)


class RatingRoundQuestion(Base):
    """One question of a round with its exact wording, and the author's rating of it."""

    __tablename__ = "rating_round_questions"
    shop_id: Mapped[ShopKey]
    round_id: Mapped[OwnKey]
    position: Mapped[int] = mapped_column(primary_key=True)
    question_id: Mapped[str] = mapped_column(String(100))
    question_digest: Mapped[Digest]
    author_percent: Mapped[int]
    question: Mapped[dict[str, Any]] = mapped_column(CanonicalJson)
    __table_args__ = (
        ForeignKeyConstraint(
            ["shop_id", "round_id"], ["rating_rounds.shop_id", "rating_rounds.id"]
        ),
    )


class RatingRoundRater(Base):
    """A supervisor who was asked to rate."""

    __tablename__ = "rating_round_raters"
    shop_id: Mapped[ShopKey]
    round_id: Mapped[OwnKey]
    person_id: Mapped[UUID] = mapped_column(ForeignKey("people.id"), primary_key=True)
    __table_args__ = (
        ForeignKeyConstraint(
            ["shop_id", "round_id"], ["rating_rounds.shop_id", "rating_rounds.id"]
        ),
    )


class QuestionRating(Base):
    """One rating as it was given; a later one by the same rater stands beside it, never over it.

    ``with_spread`` says that the rater had seen the others' ratings.
    """

    __tablename__ = "question_ratings"
    shop_id: Mapped[ShopKey]
    id: Mapped[OwnKey]
    round_id: Mapped[UUID]
    number: Mapped[int]
    question_digest: Mapped[Digest]
    person_id: Mapped[UUID] = mapped_column(ForeignKey("people.id"))
    percent: Mapped[int]
    with_spread: Mapped[bool]
    rated_at: Mapped[datetime]
    __table_args__ = (
        ForeignKeyConstraint(
            ["shop_id", "round_id"], ["rating_rounds.shop_id", "rating_rounds.id"]
        ),
        Index(None, "shop_id", "round_id", "number", unique=True),
        CheckConstraint("percent BETWEEN 0 AND 100", name="percent"),
    )
