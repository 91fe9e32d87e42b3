"""One append-only chained journal a shop."""

from __future__ import annotations

from datetime import datetime
from typing import Any
from uuid import UUID

from sqlalchemy import String
from sqlalchemy.orm import Mapped, mapped_column

from academy.store.tables.base import Base, Digest, ShopKey
from academy.store.types import CanonicalJson


class JournalHead(Base):
    """The newest link of a shop's journal; locked by whoever appends."""

    __tablename__ = "journal_heads"
    shop_id: Mapped[ShopKey]
    size: Mapped[int]
    head: Mapped[Digest]


class JournalEntry(Base):
    """One entry: what happened, by whose random id, and the hash that binds it to the one before."""

    __tablename__ = "journal_entries"
    shop_id: Mapped[ShopKey]
    number: Mapped[int] = mapped_column(primary_key=True)
    at: Mapped[datetime]
    actor_id: Mapped[UUID | None]
    kind: Mapped[str] = mapped_column(String(60))
    body: Mapped[dict[str, Any]] = mapped_column(CanonicalJson)
    previous: Mapped[Digest]
    hash: Mapped[Digest]
