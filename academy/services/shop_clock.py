"""The shop's clock: what "today" means for due dates, standing and the board.

Moments are kept in UTC; a day is always one of the shop's days.
"""

from __future__ import annotations

from datetime import date, datetime
from uuid import UUID

from sqlalchemy.orm import Session

from academy.store.queries.shop_settings import policy


def on_shop_clock(session: Session, shop_id: UUID, moment: datetime) -> datetime:
    """Return the same moment as the shop's clock shows it."""
    return moment.astimezone(policy(session, shop_id).zone)


def today_in_shop(session: Session, shop_id: UUID, now: datetime) -> date:
    """Return the date of a moment on the shop's calendar."""
    return on_shop_clock(session, shop_id, now).date()
