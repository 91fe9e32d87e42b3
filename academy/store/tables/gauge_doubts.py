"""What was done about readings that a failed verification put in doubt."""

from __future__ import annotations

from datetime import datetime
from typing import Any
from uuid import UUID

from sqlalchemy import CheckConstraint, ForeignKey, ForeignKeyConstraint, Index, String, Text
from sqlalchemy.orm import Mapped, mapped_column

from academy.domain.workshop.measured_again import Settled
from academy.store.tables.base import Base, OwnKey, ShopKey
from academy.store.types import CanonicalJson, word


class DoubtSettlement(Base):
    """One settlement; only added, never changed.  ``salt`` opens the reason's digest in the journal.

    ``readings`` and ``gauge_id`` are there where the section was measured
    again; ``stands`` says whether the readings on record hold.
    """

    __tablename__ = "doubt_settlements"
    shop_id: Mapped[ShopKey]
    id: Mapped[OwnKey]
    practical_id: Mapped[UUID]
    way: Mapped[Settled] = mapped_column(word(Settled))
    stands: Mapped[bool]
    gauge_id: Mapped[UUID | None]
    readings: Mapped[list[dict[str, Any]]] = mapped_column(CanonicalJson)
    reason: Mapped[str] = mapped_column(Text)
    salt: Mapped[str] = mapped_column(String(32))
    settled_at: Mapped[datetime]
    settled_by: Mapped[UUID] = mapped_column(ForeignKey("people.id"))
    __table_args__ = (
        ForeignKeyConstraint(["shop_id", "practical_id"], ["practicals.shop_id", "practicals.id"]),
        ForeignKeyConstraint(["shop_id", "gauge_id"], ["gauges.shop_id", "gauges.id"]),
        CheckConstraint(
            "(gauge_id IS NOT NULL) = (way = 'measured again')", name="gauge_where_measured"
        ),
        Index(None, "shop_id", "practical_id", "settled_at"),
    )
