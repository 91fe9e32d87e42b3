"""Machines, saved set-ups, and products with their safety data sheets."""

from __future__ import annotations

from datetime import date, datetime
from decimal import Decimal
from uuid import UUID

from sqlalchemy import CheckConstraint, ForeignKey, ForeignKeyConstraint, Index, String
from sqlalchemy.orm import Mapped, mapped_column

from academy.domain.workshop.machines import Machine as MachineKind
from academy.domain.workshop.machines import VibrationSource
from academy.store.tables.base import Base, Name, OwnKey, ShopKey
from academy.store.types import Thousandths, word


class Machine(Base):
    """A polishing machine with its declared or measured hand-arm vibration."""

    __tablename__ = "machines"
    shop_id: Mapped[ShopKey]
    id: Mapped[OwnKey]
    label: Mapped[Name]
    kind: Mapped[MachineKind] = mapped_column(word(MachineKind, "kind"))
    plate_mm: Mapped[int]
    throw_mm: Mapped[Decimal | None] = mapped_column(Thousandths)
    vibration_m_s2: Mapped[Decimal | None] = mapped_column(Thousandths)
    vibration_uncertainty_m_s2: Mapped[Decimal | None] = mapped_column(Thousandths)
    vibration_source: Mapped[VibrationSource] = mapped_column(word(VibrationSource))
    checked_on: Mapped[date | None]
    check_due_on: Mapped[date | None]
    created_at: Mapped[datetime]
    __table_args__ = (
        CheckConstraint("plate_mm BETWEEN 10 AND 300", name="plate"),
        CheckConstraint("throw_mm > 0", name="throw"),
        CheckConstraint("vibration_m_s2 >= 0", name="vibration"),
    )


class Product(Base):
    """A polish, cleaner or coating that needs a safety data sheet."""

    __tablename__ = "products"
    shop_id: Mapped[ShopKey]
    id: Mapped[OwnKey]
    label: Mapped[Name]
    purpose: Mapped[Name]
    created_at: Mapped[datetime]


class DataSheet(Base):
    """One revision of a product's safety data sheet, by where it can be read."""

    __tablename__ = "data_sheets"
    shop_id: Mapped[ShopKey]
    id: Mapped[OwnKey]
    product_id: Mapped[UUID]
    revised_on: Mapped[date]
    link: Mapped[str] = mapped_column(String(500))
    added_at: Mapped[datetime]
    added_by: Mapped[UUID] = mapped_column(ForeignKey("people.id"))
    __table_args__ = (
        ForeignKeyConstraint(["shop_id", "product_id"], ["products.shop_id", "products.id"]),
        CheckConstraint("link <> ''", name="somewhere"),
        Index(None, "shop_id", "product_id", "revised_on"),
    )


class SheetReading(Base):
    """A person has read one revision of a data sheet."""

    __tablename__ = "sheet_readings"
    shop_id: Mapped[ShopKey]
    sheet_id: Mapped[UUID] = mapped_column(primary_key=True)
    person_id: Mapped[UUID] = mapped_column(ForeignKey("people.id"), primary_key=True)
    read_at: Mapped[datetime]
    __table_args__ = (
        ForeignKeyConstraint(["shop_id", "sheet_id"], ["data_sheets.shop_id", "data_sheets.id"]),
    )


class SetUp(Base):
    """A saved set-up: machine, plate, pad, abrasive and dial, with a label to scan."""

    __tablename__ = "set_ups"
    shop_id: Mapped[ShopKey]
    id: Mapped[OwnKey]
    label: Mapped[Name]
    machine_id: Mapped[UUID]
    plate_mm: Mapped[int]
    pad: Mapped[Name]
    abrasive: Mapped[Name]
    product_id: Mapped[UUID | None]
    dial: Mapped[str] = mapped_column(String(40))
    pad_mm: Mapped[int | None]
    created_at: Mapped[datetime]
    __table_args__ = (
        ForeignKeyConstraint(["shop_id", "machine_id"], ["machines.shop_id", "machines.id"]),
        ForeignKeyConstraint(["shop_id", "product_id"], ["products.shop_id", "products.id"]),
        CheckConstraint("plate_mm BETWEEN 10 AND 300", name="plate"),
        CheckConstraint("pad_mm BETWEEN 10 AND 300", name="pad"),
    )
