"""Settling readings in doubt: measured again with a verified gauge, or decided by the owner.

What stands on record is never changed; each settlement is added beside it and
enters the journal.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal
from typing import Any
from uuid import UUID

from sqlalchemy.orm import Session

from academy.domain.curriculum.course import Course
from academy.domain.people import Permission, refuse_own_practical
from academy.domain.practical.steps import Readings
from academy.domain.workshop.measured_again import (
    NothingInDoubt,
    ReasonNeeded,
    Settled,
    SpotAgain,
    StillAtThePanel,
    WorkedSince,
    measured_again,
)
from academy.keys.digests import digest_of, new_salt, salted_digest
from academy.services import journal
from academy.services.actor import Actor, NotFound
from academy.services.gauges import refuse_unverified
from academy.services.practical_rows import locked_practical
from academy.services.standing import rewrite_standings
from academy.store.queries.gauge_doubts import worked_since
from academy.store.queries.gauges import SuspectPractical, suspect_practicals
from academy.store.queries.practicals import StoredPractical
from academy.store.queries.shop_settings import policy
from academy.store.queries.workshop import gauge, section
from academy.store.tables.gauge_doubts import DoubtSettlement


@dataclass(frozen=True, slots=True)
class NewReadings:
    """The section of a practical read again, spot by spot, with a gauge verified today."""

    id: UUID
    practical_id: UUID
    gauge_id: UUID
    readings_um: tuple[tuple[Decimal, ...], ...]


@dataclass(frozen=True, slots=True)
class Decision:
    """The owner accepts or refuses readings that cannot be, or were not, measured again."""

    id: UUID
    practical_id: UUID
    accepted: bool
    reason: str


def doubt_of(session: Session, shop_id: UUID, practical_id: UUID) -> SuspectPractical | None:
    """Return the open doubt about a practical's readings, or None."""
    found = suspect_practicals(session, shop_id)
    return next((one for one in found if one.practical_id == practical_id), None)


def measure_again(
    session: Session, *, actor: Actor, new: NewReadings, course: Course, now: datetime
) -> tuple[SpotAgain, ...]:
    """Compare the readings on record with new ones and keep both; agreement ends the doubt.

    Raises
    ------
    NotFound, NotTheirOwn, NothingInDoubt, StillAtThePanel
        There is nothing this person may settle.
    WorkedSince, EverySpotAgain, GaugeRefusal
        The section or the gauge does not tell.
    """
    actor.require(Permission.ASSESS_PRACTICAL)
    if _known(session, actor, new.id):
        return ()
    stored = _doubted(session, actor, new.practical_id)
    recorded = newest_readings(stored)
    place, suspect = section(session, actor.shop_id, stored.section_id), stored.gauge_id
    verified = gauge(session, actor.shop_id, new.gauge_id)
    doubtful = gauge(session, actor.shop_id, suspect) if suspect else None
    if place is None or verified is None or doubtful is None or recorded is None:
        raise NotFound()
    if worked_since(session, actor.shop_id, stored.section_id, stored.practical.closed_at or now):
        raise WorkedSince(place.name)
    refuse_unverified(session, actor.shop_id, new.gauge_id, now, place.substrate)
    spots = measured_again(
        [spot.readings_um for spot in recorded.spots], new.readings_um,
        doubtful.tolerance, verified.tolerance, policy(session, actor.shop_id).combine,
    )  # fmt: skip
    kept = [_kept(spot, read) for spot, read in zip(spots, new.readings_um, strict=True)]
    stands = all(spot.agrees for spot in spots)
    settlement = DoubtSettlement(
        shop_id=actor.shop_id, id=new.id, practical_id=new.practical_id,
        way=Settled.MEASURED_AGAIN, stands=stands, gauge_id=new.gauge_id, readings=kept,
        reason="", salt=new_salt(), settled_at=now, settled_by=actor.person_id,
    )  # fmt: skip
    _settle(session, settlement, stored, course)
    return spots


def decide_doubt(
    session: Session, *, actor: Actor, decision: Decision, course: Course, now: datetime
) -> None:
    """Accept or refuse the readings, with a reason; a known id is answered and not doubled.

    Raises
    ------
    NotAllowed, NotFound, NotTheirOwn, NothingInDoubt, StillAtThePanel, ReasonNeeded
        Nothing is written.
    """
    actor.require(Permission.SETTLE_DOUBT)
    if _known(session, actor, decision.id):
        return
    stored = _doubted(session, actor, decision.practical_id)
    if not decision.reason.strip():
        raise ReasonNeeded()
    settlement = DoubtSettlement(
        shop_id=actor.shop_id, id=decision.id, practical_id=decision.practical_id,
        way=Settled.ACCEPTED if decision.accepted else Settled.REFUSED,
        stands=decision.accepted, gauge_id=None, readings=[], reason=decision.reason.strip(),
        salt=new_salt(), settled_at=now, settled_by=actor.person_id,
    )  # fmt: skip
    _settle(session, settlement, stored, course)


def newest_readings(stored: StoredPractical) -> Readings | None:
    """Return what was read last at the section, which is what can be read again."""
    return stored.practical.after or stored.practical.before


def _known(session: Session, actor: Actor, settlement_id: UUID) -> bool:
    return session.get(DoubtSettlement, (actor.shop_id, settlement_id)) is not None


def _doubted(session: Session, actor: Actor, practical_id: UUID) -> StoredPractical:
    stored = locked_practical(session, actor, practical_id)
    refuse_own_practical(actor.person_id, stored.practical.trainee_id)
    if doubt_of(session, actor.shop_id, practical_id) is None:
        raise NothingInDoubt()
    if stored.practical.closed_at is None:
        raise StillAtThePanel()
    return stored


def _kept(spot: SpotAgain, read: Sequence[Decimal]) -> dict[str, Any]:
    return {
        "readings_um": [str(reading) for reading in read],
        "recorded_um": f"{spot.recorded_um:.3f}",
        "again_um": f"{spot.again_um:.3f}",
        "allowed_um": f"{spot.allowed_um:.3f}",
        "agrees": spot.agrees,
    }


def _settle(
    session: Session, settlement: DoubtSettlement, stored: StoredPractical, course: Course
) -> None:
    session.add(settlement)
    session.flush()
    journal.append(
        session,
        shop_id=settlement.shop_id,
        actor_id=settlement.settled_by,
        kind="doubt settled",
        body={
            "practical": str(settlement.practical_id),
            "way": settlement.way.value,
            "stands": settlement.stands,
            "readings": digest_of({"spots": settlement.readings}),
            "reason": salted_digest(settlement.salt, settlement.reason),
        },
        at=settlement.settled_at,
    )
    if stored.signed_at is not None:
        rewrite_standings(
            session,
            shop_id=settlement.shop_id,
            person_id=stored.practical.trainee_id,
            course=course,
            now=settlement.settled_at,
        )
