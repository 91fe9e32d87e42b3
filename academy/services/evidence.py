"""Collecting what a person has done into the evidence a scheme counts."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
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
    submitted_sittings,
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
    by_module: dict[str, list[SubmittedSitting]] = defaultdict(list)
    for row in submitted_sittings(session, shop_id, person_id):
        if not Purpose(row.purpose).decides_module:
            continue
        by_module[row.module_id].append(_submitted(row))
    return {module_id: module_progress(sat) for module_id, sat in by_module.items()}


def passed_something(session: Session, shop_id: UUID, person_id: UUID) -> bool:
    """Return whether a person has passed any module."""
    return any(known.passed_at for known in progress_of(session, shop_id, person_id).values())


def progress_in(session: Session, shop_id: UUID, person_id: UUID, module_id: str) -> ModuleProgress:
    """Return the progress in one module."""
    return module_progress(submitted_in(session, shop_id, person_id, module_id))


def submitted_in(
    session: Session, shop_id: UUID, person_id: UUID, module_id: str
) -> tuple[SubmittedSitting, ...]:
    """Return the sittings that decide a module, oldest first."""
    rows = submitted_sittings(session, shop_id, person_id, module_id)
    return tuple(_submitted(row) for row in rows if Purpose(row.purpose).decides_module)


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
