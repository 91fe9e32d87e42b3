"""What was typed wrong in the workshop and put right; the old value stays readable."""

from __future__ import annotations

from datetime import datetime
from uuid import UUID

from sqlalchemy import ForeignKey, Index, String, Text
from sqlalchemy.orm import Mapped, mapped_column

from academy.domain.workshop.corrections import Corrected
from academy.store.tables.base import Base, OwnKey, ShopKey
from academy.store.types import word


class WorkshopCorrection(Base):
    """One corrected value of one entry; only added, never changed.

    ``salt`` opens the digest of both values and the reason in the journal.
    """

    __tablename__ = "workshop_corrections"
    shop_id: Mapped[ShopKey]
    id: Mapped[OwnKey]
    thing: Mapped[Corrected] = mapped_column(word(Corrected))
    thing_id: Mapped[UUID]
    field: Mapped[str] = mapped_column(String(40))
    before: Mapped[str] = mapped_column(Text)
    after: Mapped[str] = mapped_column(Text)
    reason: Mapped[str] = mapped_column(Text)
    salt: Mapped[str] = mapped_column(String(32))
    corrected_at: Mapped[datetime]
    corrected_by: Mapped[UUID] = mapped_column(ForeignKey("people.id"))
    __table_args__ = (Index(None, "shop_id", "thing_id", "corrected_at"),)
