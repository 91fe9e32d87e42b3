"""The standing row per person and certificate, written with the evidence."""

from __future__ import annotations

from datetime import date, datetime
from typing import Any
from uuid import UUID

from sqlalchemy import Date, ForeignKey, Index, String
from sqlalchemy.orm import Mapped, mapped_column

from academy.domain.certification.status import StatusWord
from academy.domain.curriculum.kinds import Supervision
from academy.store.tables.base import Base, Digest, ShopKey
from academy.store.types import CanonicalJson, word


class StandingRow(Base):
    """What a person may do under one scheme, as computed when evidence last changed.

    The board reads these rows until ``sure_until``; a full recomputation always
    gives the same.  ``missing`` lists what the next level asks.
    """

    __tablename__ = "standings"
    shop_id: Mapped[ShopKey]
    person_id: Mapped[UUID] = mapped_column(ForeignKey("people.id"), primary_key=True)
    scheme_id: Mapped[str] = mapped_column(String(100), primary_key=True)
    scheme_digest: Mapped[Digest]
    status: Mapped[StatusWord] = mapped_column(word(StatusWord))
    level: Mapped[Supervision] = mapped_column(word(Supervision, "level"))
    certified: Mapped[Supervision] = mapped_column(word(Supervision, "certified"))
    ready_for: Mapped[Supervision | None] = mapped_column(word(Supervision, "ready_for"))
    next_level: Mapped[Supervision | None] = mapped_column(word(Supervision, "next_level"))
    missing: Mapped[list[dict[str, Any]]] = mapped_column(CanonicalJson)
    to_renew: Mapped[list[dict[str, Any]] | None] = mapped_column(CanonicalJson)
    held_back: Mapped[list[dict[str, Any]]] = mapped_column(CanonicalJson)
    valid_until: Mapped[date | None] = mapped_column(Date)
    sure_until: Mapped[date | None] = mapped_column(Date)
    by_trainer: Mapped[bool]
    computed_at: Mapped[datetime]
    __table_args__ = (Index(None, "shop_id", "scheme_id", "level"),)


class FrozenDocument(Base):
    """A scheme or task exactly as it stood, kept once under its digest."""

    __tablename__ = "frozen_documents"
    digest: Mapped[str] = mapped_column(String(64), primary_key=True)
    kind: Mapped[str] = mapped_column(String(40))
    body: Mapped[dict[str, Any]] = mapped_column(CanonicalJson)
    kept_at: Mapped[datetime]
