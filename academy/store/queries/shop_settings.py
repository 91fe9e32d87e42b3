"""What the owner of a shop has decided."""

from __future__ import annotations

from uuid import UUID

from sqlalchemy.orm import Session

from academy.domain.workshop.policy import ShopPolicy
from academy.store.tables.shop_settings import ShopSettings


def policy(session: Session, shop_id: UUID) -> ShopPolicy:
    """Return a shop's figures; the defaults where nobody has decided anything."""
    row = session.get(ShopSettings, shop_id)
    if row is None:
        return ShopPolicy()
    return ShopPolicy(
        row.time_zone,
        row.combine,
        row.remeasure_days,
        row.car_cap_um,
        row.car_floor_um,
        row.country,
    )
