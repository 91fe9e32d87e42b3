"""Collecting what was decided about a person, and the days of their logged work."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date, datetime, tzinfo
from uuid import UUID

from sqlalchemy.orm import Session

from academy.domain.certification import Decision, Register, Restriction, ReturnCheck, Withdrawal
from academy.domain.curriculum.course import Course
from academy.domain.practical.logbook import EntryKind, PracticeStage
from academy.domain.workshop.gauges import day_of
from academy.store.queries.decisions import (
    decisions_of,
    restrictions,
    return_checks_of,
    withdrawals_of,
)
from academy.store.queries.evidence import SignedPracticalRow
from academy.store.queries.logbook import entries_of
from academy.store.queries.shop_settings import policy

WORKED = {PracticeStage.SUPERVISED, PracticeStage.ALONE}


def register_of(
    session: Session,
    shop_id: UUID,
    person_id: UUID,
    course: Course,
    until: date,
    signed: Sequence[SignedPracticalRow],
) -> Register:
    """Return what was decided about a person, to the end of a day.

    ``signed`` are the person's signed practicals.
    """
    zone = policy(session, shop_id).zone

    def happened(moment: datetime) -> bool:
        return day_of(moment, zone) <= until

    return Register(
        decisions=tuple(
            Decision(
                row.id, row.scheme_id, row.level, row.decided_at.astimezone(zone),
                row.decided_by, row.valid_until, row.by_trainer,
            )
            for row in decisions_of(session, shop_id, person_id)
            if happened(row.decided_at)
        ),
        withdrawals=tuple(
            Withdrawal(row.scheme_id, row.at.astimezone(zone))
            for row in withdrawals_of(session, shop_id, person_id)
            if happened(row.at)
        ),
        restrictions=tuple(
            Restriction(row.id, row.scheme_id, row.level, row.since.astimezone(zone), row.review_on)
            for row in restrictions(session, shop_id, person_id)
            if happened(row.since) and not (row.lifted_at and happened(row.lifted_at))
        ),
        return_checks=tuple(
            ReturnCheck(row.scheme_id, row.at.astimezone(zone))
            for row in return_checks_of(session, shop_id, person_id)
            if happened(row.at)
        ),
        worked_on=_worked_on(session, shop_id, person_id, course, until, signed, zone),
    )  # fmt: skip


def _worked_on(
    session: Session,
    shop_id: UUID,
    person_id: UUID,
    course: Course,
    until: date,
    signed: Sequence[SignedPracticalRow],
    zone: tzinfo,
) -> Mapping[str, tuple[date, ...]]:
    """Return the days of logged work of each scheme's kind; somebody watched or helped is none."""
    days: list[tuple[str, date]] = [(row.task_id, day_of(row.closed_at, zone)) for row in signed]
    days += [
        (entry.subject_id, entry.worked_on)
        for entry in entries_of(session, shop_id, person_id)
        if entry.counts and entry.kind is EntryKind.PRACTICE and entry.stage in WORKED
    ]
    return {
        scheme.id: tuple(sorted(_days_of_kind(days, course, scheme.kind_of_work, until)))
        for scheme in course.schemes
    }


def _days_of_kind(
    days: Sequence[tuple[str, date]], course: Course, kind_of_work: str, until: date
) -> set[date]:
    tasks = {task.id for task in course.tasks if task.kind_of_work == kind_of_work}
    return {day for task, day in days if task in tasks and day <= until}
