"""Machines, saved set-ups, and products with their safety data sheets."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal
from uuid import UUID

from sqlalchemy.orm import Session

from academy.domain.people import Permission
from academy.domain.sentences import TradeError
from academy.domain.workshop.machines import Machine as MachineKind
from academy.domain.workshop.machines import VibrationSource
from academy.services.actor import Actor, NotFound
from academy.store.tables.tools import DataSheet, Machine, Product, SetUp, SheetReading


@dataclass(eq=False)
class SheetIsNowhere(TradeError):
    """A data sheet is a kept file or a link."""

    template = "Give the address of the safety data sheet"


@dataclass(eq=False)
class DueBeforeChecked(TradeError):
    """The next check lies before the last one."""

    template = "The next check is due after the last one; look at both days"


@dataclass(frozen=True, slots=True)
class NewMachine:
    """A machine as its plate and its papers state it."""

    label: str
    kind: MachineKind
    plate_mm: int
    throw_mm: Decimal | None = None
    vibration_m_s2: Decimal | None = None
    vibration_uncertainty_m_s2: Decimal | None = None
    vibration_source: VibrationSource = VibrationSource.UNKNOWN
    checked_on: date | None = None
    check_due_on: date | None = None


@dataclass(frozen=True, slots=True)
class NewSetUp:
    """Machine, plate, pad, abrasive and dial that go together."""

    label: str
    machine_id: UUID
    plate_mm: int
    pad: str
    abrasive: str
    dial: str
    product_id: UUID | None = None
    pad_mm: int | None = None


@dataclass(frozen=True, slots=True)
class NewSheet:
    """One revision of a safety data sheet."""

    id: UUID
    product_id: UUID
    revised_on: date
    link: str


def add_machine(
    session: Session, *, actor: Actor, machine_id: UUID, machine: NewMachine, now: datetime
) -> UUID:
    """Add a machine; a known id is answered and not doubled."""
    actor.require(Permission.WRITE_WORKSHOP)
    if session.get(Machine, (actor.shop_id, machine_id)) is None:
        session.add(
            Machine(
                shop_id=actor.shop_id,
                id=machine_id,
                label=machine.label,
                kind=machine.kind,
                plate_mm=machine.plate_mm,
                throw_mm=machine.throw_mm,
                vibration_m_s2=machine.vibration_m_s2,
                vibration_uncertainty_m_s2=machine.vibration_uncertainty_m_s2,
                vibration_source=machine.vibration_source,
                checked_on=machine.checked_on,
                check_due_on=machine.check_due_on,
                created_at=now,
            )
        )
    return machine_id


def record_electrical_check(
    session: Session, *, actor: Actor, machine_id: UUID, checked_on: date, check_due_on: date
) -> None:
    """Note a machine's electrical check and when the next one is due."""
    actor.require(Permission.WRITE_WORKSHOP)
    row = session.get(Machine, (actor.shop_id, machine_id))
    if row is None:
        raise NotFound()
    if check_due_on <= checked_on:
        raise DueBeforeChecked()
    row.checked_on, row.check_due_on = checked_on, check_due_on


def save_set_up(
    session: Session, *, actor: Actor, set_up_id: UUID, set_up: NewSetUp, now: datetime
) -> UUID:
    """Save a set-up; a known id is answered and not doubled."""
    actor.require(Permission.WRITE_WORKSHOP)
    if session.get(Machine, (actor.shop_id, set_up.machine_id)) is None:
        raise NotFound()
    if set_up.product_id and session.get(Product, (actor.shop_id, set_up.product_id)) is None:
        raise NotFound()
    if session.get(SetUp, (actor.shop_id, set_up_id)) is None:
        session.add(
            SetUp(
                shop_id=actor.shop_id,
                id=set_up_id,
                label=set_up.label,
                machine_id=set_up.machine_id,
                plate_mm=set_up.plate_mm,
                pad=set_up.pad,
                abrasive=set_up.abrasive,
                product_id=set_up.product_id,
                dial=set_up.dial,
                pad_mm=set_up.pad_mm,
                created_at=now,
            )
        )
    return set_up_id


def add_product(
    session: Session, *, actor: Actor, product_id: UUID, label: str, purpose: str, now: datetime
) -> UUID:
    """Add a product; a known id is answered and not doubled."""
    actor.require(Permission.WRITE_WORKSHOP)
    if session.get(Product, (actor.shop_id, product_id)) is None:
        session.add(
            Product(
                shop_id=actor.shop_id, id=product_id, label=label, purpose=purpose, created_at=now
            )
        )
    return product_id


def add_sheet(session: Session, *, actor: Actor, new: NewSheet, now: datetime) -> UUID:
    """Add a revision of a product's data sheet; everybody has to read the newest one anew."""
    actor.require(Permission.WRITE_WORKSHOP)
    if session.get(Product, (actor.shop_id, new.product_id)) is None:
        raise NotFound()
    if not new.link:
        raise SheetIsNowhere()
    if session.get(DataSheet, (actor.shop_id, new.id)) is None:
        session.add(
            DataSheet(
                shop_id=actor.shop_id,
                id=new.id,
                product_id=new.product_id,
                revised_on=new.revised_on,
                link=new.link,
                added_at=now,
                added_by=actor.person_id,
            )
        )
    return new.id


def acknowledge_sheet(session: Session, *, actor: Actor, sheet_id: UUID, now: datetime) -> None:
    """Note that a person has read this revision; once is enough."""
    actor.require(Permission.SCAN_LABEL)
    if session.get(DataSheet, (actor.shop_id, sheet_id)) is None:
        raise NotFound()
    if session.get(SheetReading, (actor.shop_id, sheet_id, actor.person_id)) is None:
        session.add(
            SheetReading(
                shop_id=actor.shop_id, sheet_id=sheet_id, person_id=actor.person_id, read_at=now
            )
        )
