"""Foils, verifications of gauges, and the practicals that rest on a gauge in doubt."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal
from typing import Any
from uuid import UUID

from sqlalchemy import select
from sqlalchemy.orm import Session

from academy.domain.curriculum.frozen import task_from_frozen
from academy.domain.curriculum.kinds import Substrate
from academy.domain.metrology.methods import GaugeMethod
from academy.domain.metrology.verification import Check, Tolerance
from academy.domain.practical.stages import Stage
from academy.domain.workshop.gauges import Doubt, doubt_about, method_for, newest_check
from academy.store.queries.gauge_doubts import last_words
from academy.store.queries.shop_settings import policy
from academy.store.tables.gauge_checks import Foil, GaugeVerification
from academy.store.tables.people import Person
from academy.store.tables.practicals import Practical, PracticalStep
from academy.store.tables.workshop import Gauge, Panel, Section


@dataclass(frozen=True, slots=True)
class FoilRow:
    """A certified foil."""

    id: UUID
    label: str
    certified_um: Decimal
    tolerance: Tolerance
    certificate_number: str
    certificate_due_on: date | None


@dataclass(frozen=True, slots=True)
class VerificationRow:
    """One verification as stored; ``checks`` has a line for each standard."""

    id: UUID
    gauge_id: UUID
    method: GaugeMethod
    checks: tuple[Mapping[str, Any], ...]
    passed: bool
    verified_at: datetime
    verified_by: str


@dataclass(frozen=True, slots=True)
class SuspectPractical:
    """A practical whose readings were taken with a gauge that failed afterwards.

    Nothing is deleted and nobody loses a standing by it: the readings are to be
    taken again by ``doubt.remeasure_by``.
    """

    practical_id: UUID
    trainee_id: UUID
    trainee_name: str
    task_id: str
    task_title: str
    section_id: UUID
    section_name: str
    gauge_id: UUID
    gauge_label: str
    doubt: Doubt


def foils(session: Session, shop_id: UUID) -> Sequence[FoilRow]:
    """Return a shop's foils, thinnest first."""
    rows = session.scalars(
        select(Foil).where(Foil.shop_id == shop_id).order_by(Foil.certified_um, Foil.label, Foil.id)
    )
    return [
        FoilRow(
            row.id,
            row.label,
            row.certified_um,
            Tolerance(row.tolerance_um, row.tolerance_percent),
            row.certificate_number,
            row.certificate_due_on,
        )
        for row in rows
    ]


def verifications(
    session: Session, shop_id: UUID, gauge_id: UUID, most: int = 60
) -> Sequence[VerificationRow]:
    """Return the newest verifications of a gauge, newest first."""
    rows = session.execute(
        select(GaugeVerification, Person.name)
        .join(Person, Person.id == GaugeVerification.verified_by)
        .where(GaugeVerification.shop_id == shop_id, GaugeVerification.gauge_id == gauge_id)
        .order_by(GaugeVerification.verified_at.desc(), GaugeVerification.id)
        .limit(most)
    )
    return [
        VerificationRow(
            row.id, row.gauge_id, row.method, tuple(row.checks), row.passed, row.verified_at, name
        )
        for row, name in rows
    ]


def newest_checks(session: Session, shop_id: UUID) -> Mapping[tuple[UUID, GaugeMethod], Check]:
    """Return the newest check of each gauge and method of a shop."""
    found = _checks(session, shop_id)
    newest = {key: newest_check(checks) for key, checks in found.items()}
    return {key: check for key, check in newest.items() if check is not None}


def checks_of(
    session: Session, shop_id: UUID, gauge_id: UUID, method: GaugeMethod
) -> Sequence[Check]:
    """Return the newest check of a gauge by one method, as a list of one or none."""
    row = session.execute(
        select(GaugeVerification.verified_at, GaugeVerification.passed)
        .where(
            GaugeVerification.shop_id == shop_id,
            GaugeVerification.gauge_id == gauge_id,
            GaugeVerification.method == method,
        )
        .order_by(GaugeVerification.verified_at.desc(), GaugeVerification.passed)
        .limit(1)
    ).first()
    return [Check(row.verified_at, row.passed)] if row else []


def suspect_practicals(session: Session, shop_id: UUID) -> Sequence[SuspectPractical]:
    """Return the practicals whose readings a failed verification puts in doubt, by day to re-measure."""
    shop = policy(session, shop_id)
    checks = {
        key: found
        for key, found in _checks(session, shop_id).items()
        if not all(check.passed for check in found)
    }
    if not checks:
        return []
    suspects, settled = [], last_words(session, shop_id)
    for row, taken_at in _read_with(session, shop_id, {gauge_id for gauge_id, _ in checks}):
        method = method_for(row.substrate)
        doubt = (
            doubt_about(
                checks.get((row.gauge_id, method), ()),
                taken_at,
                zone=shop.zone,
                remeasure_days=shop.remeasure_days,
                settled_at=settled[row.practical_id].settled_at
                if row.practical_id in settled
                else None,
            )
            if method
            else None
        )
        if doubt is not None:
            suspects.append(_suspect(row, doubt))
    return sorted(suspects, key=lambda one: (one.doubt.remeasure_by, one.section_name))


def _checks(session: Session, shop_id: UUID) -> Mapping[tuple[UUID, GaugeMethod], list[Check]]:
    rows = session.execute(
        select(
            GaugeVerification.gauge_id,
            GaugeVerification.method,
            GaugeVerification.verified_at,
            GaugeVerification.passed,
        ).where(GaugeVerification.shop_id == shop_id)
    )
    found: dict[tuple[UUID, GaugeMethod], list[Check]] = defaultdict(list)
    for row in rows:
        found[row.gauge_id, row.method].append(Check(row.verified_at, row.passed))
    return found


@dataclass(frozen=True, slots=True)
class _Read:
    """A practical with readings, before anybody asks whether they are in doubt."""

    practical_id: UUID
    trainee_id: UUID
    trainee_name: str
    task: Mapping[str, Any]
    section_id: UUID
    section_name: str
    gauge_id: UUID
    gauge_label: str
    substrate: Substrate


def _read_with(
    session: Session, shop_id: UUID, gauge_ids: set[UUID]
) -> list[tuple[_Read, list[datetime]]]:
    """Return each practical read with one of the gauges, with the moments of its readings."""
    moments: dict[UUID, list[datetime]] = defaultdict(list)
    practicals: dict[UUID, _Read] = {}
    for row in session.execute(_readings_taken(shop_id, gauge_ids)):
        moments[row.id].append(row.recorded_at)
        practicals[row.id] = _Read(
            row.id,
            row.trainee_id,
            row.name,
            row.task,
            row.section_id,
            f"{row.panel_label}, {row.section_label}",
            row.gauge_id,
            row.gauge_label,
            row.substrate,
        )
    return [(practicals[key], taken) for key, taken in moments.items()]


def _readings_taken(shop_id: UUID, gauge_ids: set[UUID]) -> Any:
    return (
        select(
            Practical.id,
            Practical.trainee_id,
            Person.name,
            Practical.task,
            Practical.section_id,
            Panel.label.label("panel_label"),
            Section.label.label("section_label"),
            Panel.substrate,
            Practical.gauge_id,
            Gauge.label.label("gauge_label"),
            PracticalStep.recorded_at,
        )
        .join(
            PracticalStep,
            (PracticalStep.shop_id == Practical.shop_id)
            & (PracticalStep.practical_id == Practical.id),
        )
        .join(Person, Person.id == Practical.trainee_id)
        .join(Gauge, (Gauge.shop_id == Practical.shop_id) & (Gauge.id == Practical.gauge_id))
        .join(
            Section, (Section.shop_id == Practical.shop_id) & (Section.id == Practical.section_id)
        )
        .join(Panel, (Panel.shop_id == Section.shop_id) & (Panel.id == Section.panel_id))
        .where(
            Practical.shop_id == shop_id,
            Practical.gauge_id.in_(gauge_ids),
            PracticalStep.stage.in_((Stage.BEFORE, Stage.BETWEEN, Stage.AFTER)),
        )
        .order_by(Practical.opened_at, Practical.id)
    )


def _suspect(row: _Read, doubt: Doubt) -> SuspectPractical:
    task = task_from_frozen(row.task)
    return SuspectPractical(
        row.practical_id,
        row.trainee_id,
        row.trainee_name,
        task.id,
        task.title,
        row.section_id,
        row.section_name,
        row.gauge_id,
        row.gauge_label,
        doubt,
    )
