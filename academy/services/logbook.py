"""The logbook: practice work and drills, entered by whoever did or saw them, confirmed by a supervisor."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime
from typing import Any
from uuid import UUID

from sqlalchemy.orm import Session

from academy.domain.curriculum.course import Course
from academy.domain.curriculum.kinds import Supervision
from academy.domain.curriculum.tasks import PracticalTask
from academy.domain.people import Permission
from academy.domain.practical.logbook import (
    AlreadyCorrected,
    EntryKind,
    NoReason,
    PracticeStage,
    refuse_alone,
    refuse_confirming,
    refuse_day_to_come,
)
from academy.services import journal
from academy.services.actor import Actor, NotFound
from academy.services.shop_clock import today_in_shop
from academy.services.standing import standings_today
from academy.store.queries.evidence import standing_rows
from academy.store.queries.logbook import EntryRow
from academy.store.queries.logbook import entry as entry_row
from academy.store.queries.people import member
from academy.store.tables.logbook import LogbookConfirmation, LogbookEntry


@dataclass(frozen=True, slots=True)
class NewEntry:
    """What is entered: a task with a stage, or a drill without one.

    ``worked_at`` says on what, in a few words; ``note`` is read by the trainee.
    """

    id: UUID
    person_id: UUID
    subject_id: str
    stage: PracticeStage | None
    worked_on: date
    worked_at: str = ""
    note: str = ""

    @property
    def kind(self) -> EntryKind:
        """Return what the entry is about: only practice work has a stage."""
        return EntryKind.PRACTICE if self.stage else EntryKind.DRILL


def write_entry(
    session: Session, *, actor: Actor, new: NewEntry, course: Course, now: datetime
) -> UUID:
    """Add an entry; a known id is answered and not doubled.

    A supervisor's entry about somebody else is confirmed by being entered.

    Raises
    ------
    NotFound, DayToCome, NotAloneYet
        The entry is refused; nothing is written.
    """
    require_entering(session, actor, new.person_id)
    if session.get(LogbookEntry, (actor.shop_id, new.id)) is None:
        _refuse(session, actor, new, course, now)
        _add(session, actor, new, now)
        _confirm_what_was_seen(session, actor, new, now)
    return new.id


def correct_entry(
    session: Session,
    *,
    actor: Actor,
    corrected_id: UUID,
    new: NewEntry | None,
    new_id: UUID,
    reason: str,
    course: Course,
    now: datetime,
) -> UUID:
    """Put a newer entry in the place of an earlier one, or take that back; both stay on record.

    Raises
    ------
    NotFound, AlreadyCorrected, NoReason, DayToCome, NotAloneYet
        The correction is refused; nothing is written.
    """
    old = _correctable(session, actor, corrected_id)
    if old.replaced:
        return _answered(session, actor, corrected_id, new_id)
    if not reason:
        raise NoReason()
    put = new or NewEntry(new_id, old.person_id, old.subject_id, old.stage, old.worked_on)
    if new is not None:
        _refuse(session, actor, new, course, now)
    _add(session, actor, put, now, supersedes_id=old.id, reason=reason, taken_back=new is None)
    if new is not None:
        _confirm_what_was_seen(session, actor, new, now)
    return new_id


def confirm_entry(session: Session, *, actor: Actor, entry_id: UUID, now: datetime) -> None:
    """Confirm somebody else's entry; confirming again changes nothing.

    Raises
    ------
    NotTheirOwnEntry, NothingToConfirm
        This person does not confirm this entry.
    """
    actor.require(Permission.CONFIRM_LOGBOOK)
    found = _known(session, actor, entry_id)
    refuse_confirming(actor.person_id, found.person_id, found.kind, not found.counts)
    if found.confirmed_at is None:
        _confirm(session, actor, entry_id, now)


def level_at(
    session: Session, *, shop_id: UUID, person_id: UUID, task: PracticalTask, course: Course,
    now: datetime,
) -> Supervision:  # fmt: skip
    """Return the level at which a person may do the task's kind of work today."""
    today = standings_today(
        session,
        shop_id=shop_id,
        person_id=person_id,
        course=course,
        rows=standing_rows(session, shop_id, person_id),
        now=now,
    )
    levels = [
        today[scheme.id].level
        for scheme in course.schemes
        if scheme.kind_of_work == task.kind_of_work
    ]
    return max(levels, key=lambda level: level.rank, default=Supervision.NOT_YET)


def require_entering(session: Session, actor: Actor, person_id: UUID) -> None:
    """Raise NotAllowed or NotFound for whoever does not enter in this person's logbook."""
    own = person_id == actor.person_id
    actor.require(Permission.WRITE_LOGBOOK if own else Permission.CONFIRM_LOGBOOK)
    if member(session, actor.shop_id, person_id) is None:
        raise NotFound()


def _refuse(session: Session, actor: Actor, new: NewEntry, course: Course, now: datetime) -> None:
    refuse_day_to_come(new.worked_on, today_in_shop(session, actor.shop_id, now))
    if new.kind is EntryKind.DRILL:
        if all(drill.id != new.subject_id for drill in course.drills):
            raise NotFound()
        return
    task = course.task(new.subject_id)
    if task is None:
        raise NotFound()
    level = level_at(
        session, shop_id=actor.shop_id, person_id=new.person_id, task=task, course=course, now=now
    )
    refuse_alone(new.stage, level, task.title)


def _known(session: Session, actor: Actor, entry_id: UUID) -> EntryRow:
    found = entry_row(session, actor.shop_id, entry_id)
    if found is None:
        raise NotFound()
    return found


def _correctable(session: Session, actor: Actor, entry_id: UUID) -> EntryRow:
    """Return an entry of one's own, or any for a supervisor."""
    found = _known(session, actor, entry_id)
    require_entering(session, actor, found.person_id)
    return found


def _answered(session: Session, actor: Actor, corrected_id: UUID, new_id: UUID) -> UUID:
    """Return the id of the same correction sent twice; another one comes too late."""
    sent = session.get(LogbookEntry, (actor.shop_id, new_id))
    if sent is None or sent.supersedes_id != corrected_id:
        raise AlreadyCorrected()
    return new_id


def _add(session: Session, actor: Actor, new: NewEntry, now: datetime, **correction: Any) -> None:
    fields: dict[str, Any] = {"supersedes_id": None, "reason": "", "taken_back": False}
    session.add(
        LogbookEntry(
            shop_id=actor.shop_id,
            id=new.id,
            person_id=new.person_id,
            kind=new.kind,
            subject_id=new.subject_id,
            stage=new.stage,
            worked_on=new.worked_on,
            worked_at=new.worked_at,
            note=new.note,
            entered_by=actor.person_id,
            entered_at=now,
            **(fields | correction),
        )
    )
    session.flush()
    body = {
        "entry": str(new.id),
        "person": str(new.person_id),
        "subject": new.subject_id,
        "stage": new.stage.value if new.stage else "",
        "day": new.worked_on.isoformat(),
    }
    if correction:
        body |= {"supersedes": str(correction["supersedes_id"])}
    journal.append(
        session, shop_id=actor.shop_id, actor_id=actor.person_id, kind="logbook entry", body=body,
        at=now,
    )  # fmt: skip


def _confirm_what_was_seen(session: Session, actor: Actor, new: NewEntry, now: datetime) -> None:
    if new.kind is EntryKind.PRACTICE and new.person_id != actor.person_id:
        _confirm(session, actor, new.id, now)


def _confirm(session: Session, actor: Actor, entry_id: UUID, now: datetime) -> None:
    session.add(
        LogbookConfirmation(
            shop_id=actor.shop_id, entry_id=entry_id, confirmed_by=actor.person_id, confirmed_at=now
        )
    )
    session.flush()
    journal.append(
        session, shop_id=actor.shop_id, actor_id=actor.person_id, kind="logbook entry confirmed",
        body={"entry": str(entry_id)}, at=now,
    )  # fmt: skip
