"""May readings be taken with a practical's gauge now?"""

from __future__ import annotations

from datetime import datetime
from uuid import UUID

from sqlalchemy.orm import Session

from academy.domain.workshop.gauges import GaugeRefusal
from academy.services.gauges import refuse_unverified
from academy.store.queries.practicals import StoredPractical
from academy.store.queries.workshop import section


def refuse_to_read(session: Session, shop_id: UUID, stored: StoredPractical, now: datetime) -> None:
    """Raise a sentence unless the practical's gauge may be read from now, on its panel's metal.

    Raises
    ------
    GaugeNotVerified, GaugeFailed
        It has no passed verification today for the method this metal asks for.
    NothingReadsPlastic, WrongMethod
        It cannot read there at all.
    """
    read = section(session, shop_id, stored.section_id)
    if stored.gauge_id is not None and read is not None:
        refuse_unverified(session, shop_id, stored.gauge_id, now, read.substrate)


def why_not_read(
    session: Session, shop_id: UUID, stored: StoredPractical, now: datetime
) -> GaugeRefusal | None:
    """Return the sentence that a reading taken now would be refused with, or None."""
    try:
        refuse_to_read(session, shop_id, stored, now)
    except GaugeRefusal as refusal:
        return refusal
    return None
