"""What the owner decides for the whole shop."""

from __future__ import annotations

from datetime import datetime
from decimal import Decimal
from uuid import UUID

from sqlalchemy import CheckConstraint, ForeignKey, String
from sqlalchemy.orm import Mapped, mapped_column

from academy.domain.metrology.verification import Combine
from academy.store.tables.base import Base, ShopKey
from academy.store.types import Thousandths, word


class ShopSettings(Base):
    """The owner's figures; a shop without a row has the defaults of the domain."""

    __tablename__ = "shop_settings"
    shop_id: Mapped[ShopKey]
    time_zone: Mapped[str] = mapped_column(String(64))
    combine: Mapped[Combine] = mapped_column(word(Combine))
    remeasure_days: Mapped[int]
    car_cap_um: Mapped[Decimal] = mapped_column(Thousandths)
    car_floor_um: Mapped[Decimal] = mapped_column(Thousandths)
    country: Mapped[str] = mapped_column(String(2), default="", server_default="")
    changed_at: Mapped[datetime]
    changed_by: Mapped[UUID] = mapped_column(ForeignKey("people.id"))
    __table_args__ = (
        CheckConstraint("remeasure_days BETWEEN 1 AND 90", name="remeasure_days"),
        CheckConstraint("car_cap_um > 0 AND car_floor_um > 0", name="car_paint"),
    )
