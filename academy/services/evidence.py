"""Collecting what a person has done into the evidence a scheme counts."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Sequence
from datetime import date, tzinfo
from uuid import UUID

from sqlalchemy.orm import Session

from academy.domain.assessment.frozen import result_from_frozen
from academy.domain.assessment.progress import (
    ModuleProgress,
    Purpose,
    SubmittedSitting,
    module_progress,
)
from academy.domain.certification import Evidence, PracticalEvidence
from academy.domain.practical.counting import why_not_counted
from academy.domain.practical.outcome import Outcome
from academy.domain.workshop.gauges import day_of
from academy.store.queries.evidence import (
    SignedPracticalRow,
    SubmittedRow,
    deciding_sittings,
)
from academy.store.queries.examinations import submitted_examinations
from academy.store.queries.shop_settings import policy


def evidence_of(
    session: Session,
    shop_id: UUID,
    person_id: UUID,
    today: date,
    signed: Sequence[SignedPracticalRow],
) -> Evidence:
    """Return everything that counts for one person in one shop on one day.

    ``signed`` are the person's signed practicals.  What happened later is left
    out.  Results of quizzes stand as they were last scored: voiding a question
    never lowers one.
    """
    zone = policy(session, shop_id).zone
    progress = progress_of(session, shop_id, person_id)
    passed: dict[str, date] = {
        module_id: day_of(known.passed_at, zone)
        for module_id, known in progress.items()
        if known.passed_at is not None and day_of(known.passed_at, zone) <= today
    }
    counted = [
        _as_evidence(row, today, zone) for row in signed if day_of(row.closed_at, zone) <= today
    ]
    examinations = {
        row.scheme_id: day_of(row.submitted_at, zone)
        for row in submitted_examinations(session, shop_id, person_id)
        if row.passed and day_of(row.submitted_at, zone) <= today
    }
    return Evidence(
        passed,
        tuple(evidence for evidence in counted if evidence is not None),
        examinations,
    )


def turns_by_itself(signed: Sequence[SignedPracticalRow]) -> tuple[date, ...]:
    """Return the last days on which practicals in doubt still count."""
    return tuple(row.remeasure_by for row in signed if row.remeasure_by is not None)


def progress_of(session: Session, shop_id: UUID, person_id: UUID) -> dict[str, ModuleProgress]:
    """Return the progress in each module the person has sat."""
    return _progress(deciding_sittings(session, shop_id, person_id))


def passed_something(session: Session, shop_id: UUID, person_id: UUID) -> bool:
    """Return whether a person has passed any module."""
    return _passed_any(deciding_sittings(session, shop_id, person_id))


def who_passed_something(session: Session, shop_id: UUID) -> frozenset[UUID]:
    """Return everybody of a shop who has passed any module."""
    by_person: dict[UUID, list[SubmittedRow]] = defaultdict(list)
    for row in deciding_sittings(session, shop_id):
        by_person[row.person_id].append(row)
    return frozenset(person_id for person_id, rows in by_person.items() if _passed_any(rows))


def progress_in(session: Session, shop_id: UUID, person_id: UUID, module_id: str) -> ModuleProgress:
    """Return the progress in one module."""
    return module_progress(submitted_in(session, shop_id, person_id, module_id))


def submitted_in(
    session: Session, shop_id: UUID, person_id: UUID, module_id: str
) -> tuple[SubmittedSitting, ...]:
    """Return the sittings that decide a module, oldest first."""
    return tuple(map(_submitted, deciding_sittings(session, shop_id, person_id, module_id)))


def _progress(rows: Iterable[SubmittedRow]) -> dict[str, ModuleProgress]:
    by_module: dict[str, list[SubmittedSitting]] = defaultdict(list)
    for row in rows:
        by_module[row.module_id].append(_submitted(row))
    return {module_id: module_progress(sat) for module_id, sat in by_module.items()}


def _passed_any(rows: Iterable[SubmittedRow]) -> bool:
    return any(known.passed_at for known in _progress(rows).values())


def _as_evidence(row: SignedPracticalRow, today: date, zone: tzinfo) -> PracticalEvidence | None:
    """Return a signed practical as evidence, or None where it does not count on that day.

    Its time is put on the shop's clock, whose days the terms of a scheme count.
    """
    if why_not_counted(row.facts, today) is not None:
        return None
    return PracticalEvidence(
        row.practical_id,
        row.task_id,
        row.record["outcome"] == Outcome.COMPETENT,
        row.closed_at.astimezone(zone),
        UUID(row.record["supervisor"]),
    )


def _submitted(row: SubmittedRow) -> SubmittedSitting:
    return SubmittedSitting(Purpose(row.purpose), row.submitted_at, result_from_frozen(row.result))
