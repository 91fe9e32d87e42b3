"""The standing row per person and scheme: written with the evidence, checked against it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime, timedelta
from uuid import UUID

from sqlalchemy.orm import Session

from academy.domain.certification import Evidence, Register, Status, status
from academy.domain.certification.frozen import (
    frozen_held_back,
    frozen_missing,
    held_back_from_frozen,
    missing_from_frozen,
)
from academy.domain.certification.held_back import ReturnCheckDue
from academy.domain.curriculum.course import Course
from academy.domain.curriculum.schemes import Scheme
from academy.services.evidence import evidence_of, turns_by_itself
from academy.services.register import register_of
from academy.services.schemes_in_force import adopted, begin_to_work_by, schemes_on
from academy.services.shop_clock import today_in_shop
from academy.store.queries.evidence import SignedPracticalRow, StandingOfPerson, signed_practicals
from academy.store.tables.certification import StandingRow


@dataclass(frozen=True, slots=True)
class PersonToday:
    """Everything a person's standings are computed from, on one day."""

    signed: Sequence[SignedPracticalRow]
    evidence: Evidence
    register: Register
    today: date
    turns: tuple[date, ...]

    def under(self, scheme: Scheme) -> Status:
        """Return what is true under one scheme."""
        found = status(scheme, self.evidence, self.register, self.today)
        days = [*self.turns, *([found.sure_until] if found.sure_until else [])]
        return replace(found, sure_until=min((d for d in days if d >= self.today), default=None))


def person_on(
    session: Session,
    shop_id: UUID,
    person_id: UUID,
    course: Course,
    today: date,
) -> PersonToday:
    """Return what a person's standings rest on, on a day."""
    signed = signed_practicals(session, shop_id, person_id)
    begins = [a.applies_from for a in adopted(session, shop_id)]
    turns = [day - timedelta(days=1) for day in begins if day > today]
    return PersonToday(
        signed,
        evidence_of(session, shop_id, person_id, today, signed),
        register_of(session, shop_id, person_id, course, today, signed),
        today,
        (*turns, *turns_by_itself(signed)),
    )


def rewrite_standings(
    session: Session, *, shop_id: UUID, person_id: UUID, course: Course, now: datetime
) -> tuple[Status, ...]:
    """Recompute a person's standing under every scheme, in the transaction of the evidence."""
    session.flush()
    today = today_in_shop(session, shop_id, now)
    begin_to_work_by(session, shop_id, course, today, now)
    person = person_on(session, shop_id, person_id, course, today)
    return tuple(
        _rewrite(session, shop_id, person_id, scheme, person.under(scheme), now)
        for scheme in schemes_on(session, shop_id, course, today)
    )


def standings_today(
    session: Session,
    *,
    shop_id: UUID,
    person_id: UUID,
    course: Course,
    rows: Sequence[StandingOfPerson],
    now: datetime,
) -> dict[str, Status]:
    """Return a person's standing today under each scheme."""
    today = today_in_shop(session, shop_id, now)
    schemes = schemes_on(session, shop_id, course, today)
    return standings_under(
        session,
        shop_id=shop_id,
        person_id=person_id,
        course=course,
        schemes=schemes,
        rows=rows,
        today=today,
    )


def standings_under(
    session: Session,
    *,
    shop_id: UUID,
    person_id: UUID,
    course: Course,
    schemes: Sequence[Scheme],
    rows: Sequence[StandingOfPerson],
    today: date,
) -> dict[str, Status]:
    """Return a person's standing on a day under the schemes that rule on it.

    The rows were true when the evidence last changed.  Where something ended
    since, another version rules or no row was written, it is computed again.
    """
    by_scheme = {row.scheme_id: row for row in rows}
    fresh = {
        scheme.id: _status_of(by_scheme[scheme.id])
        for scheme in schemes
        if scheme.id in by_scheme and _still_true(by_scheme[scheme.id], scheme, today)
    }
    if len(fresh) < len(schemes):
        person = person_on(session, shop_id, person_id, course, today)
        for scheme in schemes:
            fresh.setdefault(scheme.id, person.under(scheme))
    return fresh


def _still_true(row: StandingOfPerson, scheme: Scheme, today: date) -> bool:
    # work that is logged late can end an idle time, so such a row is never trusted
    idle = any(why["says"] == ReturnCheckDue.__name__ for why in row.held_back)
    ended = row.sure_until is not None and row.sure_until < today
    return row.scheme_digest == scheme.digest and not ended and not idle


def _status_of(row: StandingOfPerson) -> Status:
    return Status(
        scheme_id=row.scheme_id,
        word=row.status,
        level=row.level,
        certified=row.certified,
        valid_until=row.valid_until,
        ready_for=row.ready_for,
        next_level=row.next_level,
        missing=tuple(map(missing_from_frozen, row.missing)),
        to_renew=None if row.to_renew is None else tuple(map(missing_from_frozen, row.to_renew)),
        held_back=tuple(map(held_back_from_frozen, row.held_back)),
        sure_until=row.sure_until,
        by_trainer=row.by_trainer,
    )


def _rewrite(
    session: Session,
    shop_id: UUID,
    person_id: UUID,
    scheme: Scheme,
    today: Status,
    now: datetime,
) -> Status:
    session.merge(
        StandingRow(
            shop_id=shop_id,
            person_id=person_id,
            scheme_id=scheme.id,
            scheme_digest=scheme.digest,
            status=today.word,
            level=today.level,
            certified=today.certified,
            ready_for=today.ready_for,
            next_level=today.next_level,
            missing=[frozen_missing(missing) for missing in today.missing],
            to_renew=None
            if today.to_renew is None
            else [frozen_missing(missing) for missing in today.to_renew],
            held_back=[frozen_held_back(why) for why in today.held_back],
            valid_until=today.valid_until,
            sure_until=today.sure_until,
            by_trainer=today.by_trainer,
            computed_at=now,
        )
    )
    return today
