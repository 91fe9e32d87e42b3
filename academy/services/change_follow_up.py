"""Whether the next practical shows the one thing that was to change."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from uuid import UUID

from sqlalchemy.orm import Session

from academy.domain.people import Permission
from academy.domain.practical.talks import (
    ChangeAsked,
    ChangeSeen,
    ChangeState,
    NotALaterPractical,
    changes,
)
from academy.services.actor import Actor, NotAllowed, NotFound
from academy.store.queries.change_follow_ups import changes_asked, looked_for
from academy.store.queries.practicals import stored_practical
from academy.store.tables.logbook import ChangeFollowUp


@dataclass(frozen=True, slots=True)
class NewLook:
    """What a supervisor says at one practical about what was asked in an earlier one."""

    id: UUID
    asked_in: UUID
    seen_in: UUID
    seen: ChangeSeen


def changes_of(session: Session, shop_id: UUID, person_id: UUID) -> tuple[ChangeState, ...]:
    """Return each thing a person was to change, newest first, with the latest word on it."""
    asked = changes_asked(session, shop_id, person_id)
    return changes(asked, looked_for(session, shop_id, person_id))


def to_look_for(session: Session, shop_id: UUID, practical_id: UUID) -> tuple[ChangeState, ...]:
    """Return what to look for in one practical: what was asked before it and does not show yet.

    What was already said about it in this very practical stays in the list.
    """
    here = stored_practical(session, shop_id, practical_id)
    if here is None:
        raise NotFound()
    before = [
        state
        for state in changes_of(session, shop_id, here.practical.trainee_id)
        if state.asked.asked_at < here.practical.opened_at
    ]
    return tuple(
        state
        for state in before
        if state.still_open or (state.last and state.last.seen_in == practical_id)
    )


def say_whether_it_shows(session: Session, *, actor: Actor, new: NewLook, now: datetime) -> None:
    """Keep what the supervisor of a practical saw; the same id sent again changes nothing.

    Raises
    ------
    NotFound, NotAllowed, NotALaterPractical
        It is another supervisor's practical, or not a later one of the same person.
    """
    actor.require(Permission.ASSESS_PRACTICAL)
    if session.get(ChangeFollowUp, (actor.shop_id, new.id)) is not None:
        return
    here = stored_practical(session, actor.shop_id, new.seen_in)
    if here is None:
        raise NotFound()
    if here.practical.supervisor_id != actor.person_id:
        raise NotAllowed()
    asked = changes_asked(session, actor.shop_id, here.practical.trainee_id)
    if not any(_before(one, new.asked_in, here.practical.opened_at) for one in asked):
        raise NotALaterPractical()
    session.add(
        ChangeFollowUp(
            shop_id=actor.shop_id,
            id=new.id,
            asked_in=new.asked_in,
            seen_in=new.seen_in,
            seen=new.seen,
            said_by=actor.person_id,
            said_at=now,
        )
    )


def _before(one: ChangeAsked, asked_in: UUID, opened_at: datetime) -> bool:
    return one.practical_id == asked_in and one.asked_at < opened_at
