"""The first start: the schema, and either the demonstration or a real, empty shop."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from sqlalchemy import select
from sqlalchemy.orm import Session

from academy.domain.curriculum.course import Course
from academy.files.photographs import PhotographStore
from academy.services import people
from academy.services.demo import load_demo
from academy.store.tables.people import Membership, Shop

EMPTY_SHOP = "New shop"


@dataclass(frozen=True, slots=True)
class Started:
    """What stands in the database.

    ``invitation_token`` is set while a real shop still waits for its owner; a
    new link is made each time, and the one before stops working.
    """

    demo: bool
    invitation_token: str | None = None


def first_start(
    session: Session,
    *,
    course: Course,
    empty: bool,
    now: datetime,
    photographs: PhotographStore | None = None,
) -> Started:
    """Fill a new database, or say what an existing one holds.

    An installation keeps what it was started as: the demonstration does not
    turn into a real shop, nor the other way about.
    """
    shop = session.scalars(select(Shop).order_by(Shop.created_at, Shop.id)).first()
    if shop is None and not empty:
        load_demo(session, course=course, now=now, photographs=photographs)
        return Started(demo=True)
    if shop is not None and shop.demo:
        return Started(demo=True)
    shop_id = shop.id if shop else people.open_shop(session, name=EMPTY_SHOP, now=now)
    waiting = session.scalar(select(Membership.person_id).where(Membership.shop_id == shop_id))
    if waiting is not None:
        return Started(demo=False)
    return Started(False, people.invite_first_owner(session, shop_id, now).token)
