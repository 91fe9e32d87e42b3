"""What somebody says of their time at machines: only added, corrected with a reason."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal
from typing import Any
from uuid import UUID

from sqlalchemy.orm import Session

from academy.domain.practical.logbook import AlreadyCorrected, NoReason, refuse_day_to_come
from academy.services.actor import Actor, NotFound
from academy.services.logbook import require_entering
from academy.services.shop_clock import today_in_shop
from academy.store.queries import exposure as queries
from academy.store.queries.tools import MachineRow, machines
from academy.store.tables.logbook import LogbookEntry, ToolTime


@dataclass(frozen=True, slots=True)
class NewToolTime:
    """How long somebody held a running machine, by one of the shop's machines or by its value.

    Without ``entry_id`` it is of the day before the session, here or
    elsewhere; nought seconds then say that there was none.
    """

    id: UUID
    person_id: UUID
    worked_on: date
    seconds: int
    says: str = ""
    entry_id: UUID | None = None
    machine_id: UUID | None = None
    vibration_m_s2: Decimal | None = None
    vibration_uncertainty_m_s2: Decimal | None = None


def state_tool_time(session: Session, *, actor: Actor, new: NewToolTime, now: datetime) -> UUID:
    """Keep how long somebody held a machine; a known id is answered and not doubled.

    Raises
    ------
    NotFound, DayToCome
        There is no such person, entry or machine here, or the day is to come.
    """
    require_entering(session, actor, new.person_id)
    if session.get(ToolTime, (actor.shop_id, new.id)) is None:
        _add(session, actor, new, now)
    return new.id


def correct_tool_time(
    session: Session, *, actor: Actor, corrected_id: UUID, new: NewToolTime, reason: str,
    now: datetime,
) -> UUID:  # fmt: skip
    """Put another time in the place of one that was stated; both stay on record.

    Raises
    ------
    NotFound, AlreadyCorrected, NoReason, DayToCome
        The correction is refused; nothing is written.
    """
    require_entering(session, actor, new.person_id)
    old = queries.tool_time(session, actor.shop_id, corrected_id)
    if old is None or old.person_id != new.person_id:
        raise NotFound()
    sent = session.get(ToolTime, (actor.shop_id, new.id))
    if sent is not None and sent.supersedes_id == corrected_id:
        return new.id
    standing = queries.tool_times(session, actor.shop_id, old.person_id, old.worked_on)
    if all(row.id != corrected_id for row in standing):
        raise AlreadyCorrected()
    if not reason:
        raise NoReason()
    _add(session, actor, new, now, supersedes_id=corrected_id, reason=reason)
    return new.id


def _add(
    session: Session, actor: Actor, new: NewToolTime, now: datetime, **correction: Any
) -> None:
    refuse_day_to_come(new.worked_on, today_in_shop(session, actor.shop_id, now))
    chosen = _chosen(session, actor.shop_id, new)
    entry = session.get(LogbookEntry, (actor.shop_id, new.entry_id)) if new.entry_id else None
    if new.entry_id and (entry is None or entry.person_id != new.person_id):
        raise NotFound()
    value = chosen or new
    fields: dict[str, Any] = {"supersedes_id": None, "reason": ""}
    session.add(
        ToolTime(
            shop_id=actor.shop_id,
            id=new.id,
            person_id=new.person_id,
            worked_on=new.worked_on,
            entry_id=new.entry_id,
            machine_id=new.machine_id,
            says=new.says or (chosen.label if chosen else ""),
            seconds=new.seconds,
            vibration_m_s2=value.vibration_m_s2,
            vibration_uncertainty_m_s2=value.vibration_uncertainty_m_s2,
            stated_by=actor.person_id,
            stated_at=now,
            **(fields | correction),
        )
    )
    session.flush()


def _chosen(session: Session, shop_id: UUID, new: NewToolTime) -> MachineRow | None:
    if new.machine_id is None:
        return None
    found = next((m for m in machines(session, shop_id) if m.id == new.machine_id), None)
    if found is None:
        raise NotFound()
    return found
