"""What the owner decides for the shop."""

from __future__ import annotations

from datetime import datetime

from sqlalchemy.orm import Session

from academy.domain.exposure.legal import checked_country
from academy.domain.people import Permission
from academy.domain.workshop.policy import ShopPolicy, checked_time_zone
from academy.services import journal
from academy.services.actor import Actor
from academy.store.queries.shop_settings import policy
from academy.store.tables.shop_settings import ShopSettings


def change_settings(session: Session, *, actor: Actor, settings: ShopPolicy, now: datetime) -> None:
    """Set the owner's figures; the journal keeps every set of figures that ever held.

    Raises
    ------
    UnknownTimeZone, UnknownCountry
        There is no such zone or country; nothing is changed.
    """
    actor.require(Permission.WRITE_SETTINGS)
    checked_time_zone(settings.time_zone)
    checked_country(settings.country)
    if policy(session, actor.shop_id) == settings:
        return
    row = session.get(ShopSettings, actor.shop_id) or ShopSettings(shop_id=actor.shop_id)
    row.time_zone = settings.time_zone
    row.combine = settings.combine
    row.remeasure_days = settings.remeasure_days
    row.car_cap_um = settings.car_cap_um
    row.car_floor_um = settings.car_floor_um
    row.country = settings.country
    row.changed_at, row.changed_by = now, actor.person_id
    session.add(row)
    session.flush()
    journal.append(
        session,
        shop_id=actor.shop_id,
        actor_id=actor.person_id,
        kind="settings changed",
        body=_plain(settings),
        at=now,
    )


def _plain(settings: ShopPolicy) -> dict[str, object]:
    return {
        "time_zone": settings.time_zone,
        "combine": settings.combine.value,
        "remeasure_days": settings.remeasure_days,
        "car_cap_um": str(settings.car_cap_um),
        "car_floor_um": str(settings.car_floor_um),
        "country": settings.country,
    }
