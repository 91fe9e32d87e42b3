"""Machines, set-ups, products and who has read their data sheets."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from uuid import UUID

from sqlalchemy import select
from sqlalchemy.orm import Session

from academy.domain.workshop.machines import Machine as MachineKind
from academy.domain.workshop.machines import VibrationSource
from academy.store.tables.tools import DataSheet, Machine, Product, SetUp, SheetReading


@dataclass(frozen=True, slots=True)
class MachineRow:
    """A machine."""

    id: UUID
    label: str
    kind: MachineKind
    plate_mm: int
    throw_mm: Decimal | None
    vibration_m_s2: Decimal | None
    vibration_uncertainty_m_s2: Decimal | None
    vibration_source: VibrationSource
    checked_on: date | None
    check_due_on: date | None


@dataclass(frozen=True, slots=True)
class SetUpRow:
    """A saved set-up with its machine's name."""

    id: UUID
    label: str
    machine: str
    plate_mm: int
    pad: str
    abrasive: str
    dial: str
    product_id: UUID | None
    pad_mm: int | None


@dataclass(frozen=True, slots=True)
class SheetRow:
    """A revision of a data sheet, and whether the person asking has read it."""

    id: UUID
    product_id: UUID
    revised_on: date
    link: str
    read: bool


@dataclass(frozen=True, slots=True)
class ProductRow:
    """A product with its newest data sheet, if it has one."""

    id: UUID
    label: str
    purpose: str
    sheet: SheetRow | None


def machines(session: Session, shop_id: UUID) -> Sequence[MachineRow]:
    """Return a shop's machines by label."""
    rows = session.scalars(
        select(Machine).where(Machine.shop_id == shop_id).order_by(Machine.label, Machine.id)
    )
    return [
        MachineRow(
            row.id,
            row.label,
            row.kind,
            row.plate_mm,
            row.throw_mm,
            row.vibration_m_s2,
            row.vibration_uncertainty_m_s2,
            row.vibration_source,
            row.checked_on,
            row.check_due_on,
        )
        for row in rows
    ]


def set_ups(session: Session, shop_id: UUID) -> Sequence[SetUpRow]:
    """Return a shop's saved set-ups by label."""
    rows = session.execute(
        select(SetUp, Machine.label)
        .join(Machine, (Machine.shop_id == SetUp.shop_id) & (Machine.id == SetUp.machine_id))
        .where(SetUp.shop_id == shop_id)
        .order_by(SetUp.label, SetUp.id)
    )
    return [
        SetUpRow(
            row.id, row.label, machine, row.plate_mm, row.pad, row.abrasive, row.dial,
            row.product_id, row.pad_mm,
        )
        for row, machine in rows
    ]  # fmt: skip


def set_up(session: Session, shop_id: UUID, set_up_id: UUID) -> SetUpRow | None:
    """Return one saved set-up, or None."""
    return next((row for row in set_ups(session, shop_id) if row.id == set_up_id), None)


def products(session: Session, shop_id: UUID, person_id: UUID) -> Sequence[ProductRow]:
    """Return a shop's products, each with its newest data sheet as this person stands to it."""
    sheets = _newest_sheets(session, shop_id, person_id)
    rows = session.scalars(
        select(Product).where(Product.shop_id == shop_id).order_by(Product.label, Product.id)
    )
    return [ProductRow(row.id, row.label, row.purpose, sheets.get(row.id)) for row in rows]


def product(
    session: Session, shop_id: UUID, person_id: UUID, product_id: UUID
) -> ProductRow | None:
    """Return one product, or None."""
    found = products(session, shop_id, person_id)
    return next((row for row in found if row.id == product_id), None)


def _newest_sheets(session: Session, shop_id: UUID, person_id: UUID) -> dict[UUID, SheetRow]:
    read = set(
        session.scalars(
            select(SheetReading.sheet_id).where(
                SheetReading.shop_id == shop_id, SheetReading.person_id == person_id
            )
        )
    )
    rows = session.scalars(
        select(DataSheet)
        .where(DataSheet.shop_id == shop_id)
        .order_by(DataSheet.revised_on, DataSheet.added_at, DataSheet.id)
    )
    # a later revision takes the place of an earlier one
    return {
        row.product_id: SheetRow(row.id, row.product_id, row.revised_on, row.link, row.id in read)
        for row in rows
    }
