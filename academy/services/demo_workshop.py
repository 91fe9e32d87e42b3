"""The demonstration's workshop: a gauge verified today, machines, set-ups, a product.

All of it is invented; the vibration values are not a maker's.
"""

from __future__ import annotations

from datetime import datetime, timedelta
from decimal import Decimal
from uuid import UUID, uuid4

from sqlalchemy.orm import Session

from academy.domain.metrology.methods import GaugeMethod
from academy.domain.workshop.gauges import verified_now
from academy.domain.workshop.machines import Machine, VibrationSource
from academy.services import gauges, panels, tools
from academy.services.actor import Actor
from academy.store.queries.gauges import checks_of, foils
from academy.store.queries.shop_settings import policy
from academy.store.queries.workshop import sections

DATA_SHEET = "https://example.com/invented-data-sheet"
ZERO_READ = (Decimal("0.1"), Decimal("0.0"), Decimal("0.2"))
FOIL_READ = {
    Decimal("49.8"): (Decimal("50.1"), Decimal("50.0"), Decimal("50.2")),
    Decimal("124.6"): (Decimal("125.0"), Decimal("124.8"), Decimal("125.1")),
}


def load_workshop(session: Session, *, actor: Actor, now: datetime) -> None:
    """Furnish the demonstration's workshop as it stands this morning."""
    _tools(session, actor, now)
    for section in sections(session, actor.shop_id)[:2]:
        defect = panels.NewDefect(
            uuid4(), section.id, "straight scratches, 15 cm",
            "3000 grade sheet, dry, two strokes with the weight of the hand", 2,
        )  # fmt: skip
        panels.prepare_defect(session, actor=actor, new=defect, now=now)


def add_foils(session: Session, *, actor: Actor, now: datetime) -> None:
    """Add the shop's two certified foils."""
    for certified in FOIL_READ:
        foil = gauges.NewFoil(
            f"Foil {certified}", certified, Decimal("0.5"),
            certificate_number="DEMO-F", certificate_due_on=(now + timedelta(days=275)).date(),
        )  # fmt: skip
        gauges.add_foil(session, actor=actor, foil_id=uuid4(), foil=foil, now=now)
    session.flush()


def begin_the_day(session: Session, *, actor: Actor, gauge_id: UUID, now: datetime) -> None:
    """Verify the gauge by both methods, as somebody does before the first reading of a day."""
    on_foils = {foil.id: FOIL_READ[foil.certified_um] for foil in foils(session, actor.shop_id)}
    for method in (GaugeMethod.MAGNETIC, GaugeMethod.EDDY_CURRENT):
        if not verified_now(
            checks_of(session, actor.shop_id, gauge_id, method),
            now,
            policy(session, actor.shop_id).zone,
        ):
            new = gauges.NewVerification(uuid4(), gauge_id, method, ZERO_READ, on_foils)
            gauges.verify_gauge(session, actor=actor, new=new, now=now)
    session.flush()


def _tools(session: Session, actor: Actor, now: datetime) -> None:
    due = (now + timedelta(days=150)).date()
    dual_action, rotary = uuid4(), uuid4()
    for machine_id, machine in (
        (
            dual_action,
            tools.NewMachine(
                "Dual action 1", Machine.FREE_SPINNING, 125, Decimal(15), Decimal("4.5"),
                Decimal("1.5"), VibrationSource.DECLARED, check_due_on=due,
            ),
        ),
        (
            rotary,
            tools.NewMachine(
                "Rotary 1", Machine.ROTARY, 125, None, Decimal("3.2"), Decimal("1.5"),
                VibrationSource.DECLARED, check_due_on=due,
            ),
        ),
    ):  # fmt: skip
        tools.add_machine(session, actor=actor, machine_id=machine_id, machine=machine, now=now)
    product_id = tools.add_product(
        session, actor=actor, product_id=uuid4(), label="Medium polish (invented)",
        purpose="Taking out light scratches and haze", now=now,
    )  # fmt: skip
    session.flush()
    sheet = tools.NewSheet(uuid4(), product_id, (now - timedelta(days=300)).date(), DATA_SHEET)
    tools.add_sheet(session, actor=actor, new=sheet, now=now)
    for label, machine_id, pad, abrasive, product, dial in (
        ("Finish, dual action", dual_action, "soft foam, 130 mm", "fine polish", None, "3"),
        (
            "One step, dual action",
            dual_action,
            "polishing foam, 130 mm",
            "medium polish",
            product_id,
            "4",
        ),
        ("Cut, rotary", rotary, "wool, 130 mm", "cutting compound", None, "2"),
    ):
        new = tools.NewSetUp(label, machine_id, 125, pad, abrasive, dial, product)
        tools.save_set_up(session, actor=actor, set_up_id=uuid4(), set_up=new, now=now)
