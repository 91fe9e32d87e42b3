"""Practice panels, their sections, and gauges."""

from __future__ import annotations

from datetime import date, datetime
from decimal import Decimal
from uuid import UUID

from sqlalchemy import CheckConstraint, ForeignKeyConstraint, String
from sqlalchemy.orm import Mapped, mapped_column

from academy.domain.curriculum.kinds import Substrate
from academy.domain.metrology.budget import History
from academy.domain.workshop.panels import ClearCoat, Curvature
from academy.store.tables.base import Base, Name, OwnKey, ShopKey
from academy.store.types import CanonicalJson, Thousandths, word


class Panel(Base):
    """A practice panel."""

    __tablename__ = "panels"
    shop_id: Mapped[ShopKey]
    id: Mapped[OwnKey]
    label: Mapped[Name]
    substrate: Mapped[Substrate] = mapped_column(word(Substrate))
    paint_system: Mapped[Name]
    curvature: Mapped[Curvature] = mapped_column(word(Curvature))
    colour: Mapped[Name]
    clear_coat: Mapped[ClearCoat] = mapped_column(word(ClearCoat))
    history: Mapped[History] = mapped_column(word(History))
    sacrificial: Mapped[bool] = mapped_column(default=False)
    created_at: Mapped[datetime]


class Section(Base):
    """A section of a panel, about 45 cm, with its marked spots and what may come off it in all."""

    __tablename__ = "sections"
    shop_id: Mapped[ShopKey]
    id: Mapped[OwnKey]
    panel_id: Mapped[UUID]
    label: Mapped[Name]
    spots: Mapped[int]
    budget_um: Mapped[Decimal] = mapped_column(Thousandths)
    __table_args__ = (
        ForeignKeyConstraint(["shop_id", "panel_id"], ["panels.shop_id", "panels.id"]),
        CheckConstraint("spots BETWEEN 1 AND 40", name="spots"),
        CheckConstraint("budget_um > 0", name="budget"),
    )


class Gauge(Base):
    """A thickness gauge; the repeatability is the shop's own figure, from repeats at one spot.

    ``methods`` are the words of the methods it has.  The tolerance is the one
    its maker states: an absolute part plus a share of the thickness.
    """

    __tablename__ = "gauges"
    shop_id: Mapped[ShopKey]
    id: Mapped[OwnKey]
    label: Mapped[Name]
    serial: Mapped[str] = mapped_column(String(100))
    resolution_um: Mapped[Decimal] = mapped_column(Thousandths)
    repeatability_um: Mapped[Decimal] = mapped_column(Thousandths)
    methods: Mapped[list[str]] = mapped_column(CanonicalJson)
    tolerance_um: Mapped[Decimal] = mapped_column(Thousandths)
    tolerance_percent: Mapped[Decimal] = mapped_column(Thousandths)
    certificate_number: Mapped[str] = mapped_column(String(100))
    certificate_due_on: Mapped[date | None]
    created_at: Mapped[datetime]
    __table_args__ = (
        CheckConstraint("resolution_um > 0", name="resolution"),
        CheckConstraint("repeatability_um >= 0", name="repeatability"),
        CheckConstraint("tolerance_um > 0 AND tolerance_percent >= 0", name="tolerance"),
    )
