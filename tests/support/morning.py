"""What a shop does before the first reading of a day."""

from __future__ import annotations

from datetime import datetime
from decimal import Decimal
from typing import TYPE_CHECKING
from uuid import UUID, uuid5

from sqlalchemy.orm import Session

from academy.domain.metrology.methods import GaugeMethod
from academy.services import gauges

if TYPE_CHECKING:
    from tests.support.cast import ShopPeople

DAYS = UUID("00000000-0000-4000-8000-0000000000da")


def verify_for_the_day(session: Session, people: ShopPeople, at: datetime) -> None:
    """Verify the shop's gauge by both methods, once a day however often it is asked.

    The check passes at the moment of the first call and holds for that day.
    """
    gauge_id, day = people.bench.gauge_id, at.date().isoformat()
    foil_id = gauges.add_foil(
        session, actor=people.supervisor, foil_id=uuid5(DAYS, str(people.shop_id)),
        foil=gauges.NewFoil("Morning foil", Decimal("99.8"), Decimal("0.5")), now=at,
    )  # fmt: skip
    session.flush()
    for method in (GaugeMethod.MAGNETIC, GaugeMethod.EDDY_CURRENT):
        new = gauges.NewVerification(
            uuid5(gauge_id, f"{day} {method}"), gauge_id, method,
            (Decimal("0.1"),) * 3, {foil_id: (Decimal("99.9"),) * 3},
        )  # fmt: skip
        gauges.verify_gauge(session, actor=people.supervisor, new=new, now=at)
    session.flush()
