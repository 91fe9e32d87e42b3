"""What is done to a section before a practical."""

from __future__ import annotations

from datetime import datetime
from uuid import UUID

from sqlalchemy import CheckConstraint, ForeignKey, ForeignKeyConstraint, Index, String
from sqlalchemy.orm import Mapped, mapped_column

from academy.store.tables.base import Base, OwnKey, ShopKey


class PreparedDefect(Base):
    """A defect made on purpose in a section: what, how and by whom, with its severity 1 to 3."""

    __tablename__ = "prepared_defects"
    shop_id: Mapped[ShopKey]
    id: Mapped[OwnKey]
    section_id: Mapped[UUID]
    defect: Mapped[str] = mapped_column(String(200))
    how_made: Mapped[str] = mapped_column(String(500))
    severity: Mapped[int]
    photograph_digest: Mapped[str | None] = mapped_column(String(64))
    made_at: Mapped[datetime]
    made_by: Mapped[UUID] = mapped_column(ForeignKey("people.id"))
    __table_args__ = (
        ForeignKeyConstraint(["shop_id", "section_id"], ["sections.shop_id", "sections.id"]),
        CheckConstraint("severity BETWEEN 1 AND 3", name="severity"),
        Index(None, "shop_id", "section_id", "made_at"),
    )
