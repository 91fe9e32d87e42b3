"""Practicals as stored, folded from their steps."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal
from typing import Any
from uuid import UUID

from sqlalchemy import or_, select
from sqlalchemy.orm import Session, aliased

from academy.domain.curriculum.frozen import task_from_frozen
from academy.domain.practical.frozen import body_from_frozen
from academy.domain.practical.outcome import GaugeFigures
from academy.domain.practical.record import Practical
from academy.domain.practical.signatures import Meaning
from academy.domain.practical.stages import PracticalKind, Stage
from academy.domain.practical.steps import Step
from academy.store.queries.workshop import gauge
from academy.store.tables.people import Person
from academy.store.tables.practicals import Photograph, PracticalStep, Signature, SignedRecord
from academy.store.tables.practicals import Practical as PracticalRow
from academy.store.tables.workshop import Panel, Section


@dataclass(frozen=True, slots=True)
class StoredRecord:
    """A frozen record."""

    id: UUID
    record: dict[str, Any]
    digest: str
    salts: dict[str, Any]
    frozen_at: datetime

    def signer(self, supervisor_id: UUID) -> UUID:
        """Return who signs it as assessed: its supervisor, or whoever amended it."""
        amended_by = self.record.get("amended_by")
        return UUID(amended_by) if amended_by else supervisor_id


@dataclass(frozen=True, slots=True)
class StoredSignature:
    """A signature with the printed name of who signed."""

    person_id: UUID
    name: str
    meaning: str
    signed_at: datetime
    record_digest: str
    late_reason: str | None = None


@dataclass(frozen=True, slots=True)
class StoredPhotograph:
    """A photograph of a practical; the picture lies in the file store under its digest."""

    id: UUID
    digest: str
    caption: str
    taken_at: datetime
    stage: Stage | None = None


@dataclass(frozen=True, slots=True)
class StoredPractical:
    """A practical with its place, its gauge, its record and its signatures."""

    practical: Practical
    section_id: UUID
    section_name: str
    gauge_id: UUID | None
    gauge: GaugeFigures | None
    record: StoredRecord | None
    signatures: tuple[StoredSignature, ...]
    signed_at: datetime | None
    photographs: tuple[StoredPhotograph, ...] = ()
    sacrificial: bool = False

    def has_signed(self, meaning: Meaning) -> bool:
        """Return whether the newest record carries a signature of that meaning."""
        return any(signature.meaning == meaning for signature in self.signatures)

    def pictures_of(self, stage: Stage) -> tuple[str, ...]:
        """Return the digests of the photographs that belong to a stage."""
        return tuple(picture.digest for picture in self.photographs if picture.stage is stage)


@dataclass(frozen=True, slots=True)
class PracticalSummary:
    """One practical in a list."""

    id: UUID
    trainee_id: UUID
    trainee_name: str
    supervisor_id: UUID
    supervisor_name: str
    task_id: str
    task_title: str
    kind: PracticalKind
    section_name: str
    opened_at: datetime
    closed_at: datetime | None
    signed_at: datetime | None
    outcome: str | None


def stored_practical(session: Session, shop_id: UUID, practical_id: UUID) -> StoredPractical | None:
    """Return one practical of a shop, or None."""
    row = session.scalars(
        select(PracticalRow).where(PracticalRow.shop_id == shop_id, PracticalRow.id == practical_id)
    ).one_or_none()
    if row is None:
        return None
    record = _record(session, shop_id, practical_id)
    return StoredPractical(
        _folded(session, row),
        row.section_id,
        _section_name(session, shop_id, row.section_id),
        row.gauge_id,
        _figures(session, row, record),
        record,
        _signatures(session, shop_id, record),
        row.signed_at,
        _photographs(session, shop_id, practical_id),
        _on_sacrificial_panel(session, shop_id, row.section_id),
    )


def practicals(
    session: Session, shop_id: UUID, person_id: UUID | None = None
) -> Sequence[PracticalSummary]:
    """Return a shop's practicals, newest first; of one person, as trainee or supervisor."""
    trainee, supervisor = aliased(Person), aliased(Person)
    superseded = select(SignedRecord.supersedes_id).where(
        SignedRecord.shop_id == shop_id, SignedRecord.supersedes_id.is_not(None)
    )
    query = (
        select(
            PracticalRow,
            trainee.name.label("trainee_name"),
            supervisor.name.label("supervisor_name"),
            Panel.label.label("panel_label"),
            Section.label.label("section_label"),
            SignedRecord.record,
        )
        .join(trainee, trainee.id == PracticalRow.trainee_id)
        .join(supervisor, supervisor.id == PracticalRow.supervisor_id)
        .join(
            Section,
            (Section.shop_id == PracticalRow.shop_id) & (Section.id == PracticalRow.section_id),
        )
        .join(Panel, (Panel.shop_id == Section.shop_id) & (Panel.id == Section.panel_id))
        .outerjoin(
            SignedRecord,
            (SignedRecord.shop_id == PracticalRow.shop_id)
            & (SignedRecord.practical_id == PracticalRow.id)
            & SignedRecord.id.not_in(superseded),
        )
        .where(PracticalRow.shop_id == shop_id)
        .order_by(PracticalRow.opened_at.desc(), PracticalRow.id)
    )
    if person_id is not None:
        query = query.where(
            or_(PracticalRow.trainee_id == person_id, PracticalRow.supervisor_id == person_id)
        )
    return [_summary(row) for row in session.execute(query)]


def open_at_panel(
    session: Session, shop_id: UUID, supervisor_id: UUID
) -> Sequence[tuple[str, Practical]]:
    """Return a supervisor's open practicals with the trainee's name, oldest first."""
    rows = session.execute(
        select(PracticalRow, Person.name)
        .join(Person, Person.id == PracticalRow.trainee_id)
        .where(
            PracticalRow.shop_id == shop_id,
            PracticalRow.supervisor_id == supervisor_id,
            PracticalRow.closed_at.is_(None),
        )
        .order_by(PracticalRow.opened_at, PracticalRow.id)
    )
    return [(name, _folded(session, row)) for row, name in rows]


def _summary(row: Any) -> PracticalSummary:
    practical: PracticalRow = row[0]
    return PracticalSummary(
        practical.id,
        practical.trainee_id,
        row.trainee_name,
        practical.supervisor_id,
        row.supervisor_name,
        practical.task_id,
        task_from_frozen(practical.task).title,
        practical.kind,
        f"{row.panel_label}, {row.section_label}",
        practical.opened_at,
        practical.closed_at,
        practical.signed_at,
        row.record["outcome"] if row.record else None,
    )


def _figures(
    session: Session, row: PracticalRow, record: StoredRecord | None
) -> GaugeFigures | None:
    """Return the gauge's figures: those the record was closed with, else those that hold now."""
    closed_with = record.record["gauge"] if record else None
    if closed_with:
        return GaugeFigures(
            Decimal(closed_with["resolution_um"]), Decimal(closed_with["repeatability_um"])
        )
    now = gauge(session, row.shop_id, row.gauge_id) if row.gauge_id else None
    return GaugeFigures(now.resolution_um, now.repeatability_um) if now else None


def _folded(session: Session, row: PracticalRow) -> Practical:
    steps = session.scalars(
        select(PracticalStep)
        .where(PracticalStep.shop_id == row.shop_id, PracticalStep.practical_id == row.id)
        .order_by(PracticalStep.number)
    )
    return Practical(
        row.id,
        row.trainee_id,
        row.supervisor_id,
        task_from_frozen(row.task),
        row.kind,
        row.opened_at,
        tuple(
            Step(
                step.id,
                step.stage,
                body_from_frozen(step.stage, step.body),
                step.recorded_at,
                step.recorded_by,
            )
            for step in steps
        ),
        row.closed_at,
        tuple(Stage(stage) for stage in row.stages),
    )


def _section_name(session: Session, shop_id: UUID, section_id: UUID) -> str:
    row = session.execute(
        select(Panel.label, Section.label)
        .join(Panel, (Panel.shop_id == Section.shop_id) & (Panel.id == Section.panel_id))
        .where(Section.shop_id == shop_id, Section.id == section_id)
    ).one()
    return f"{row[0]}, {row[1]}"


def _on_sacrificial_panel(session: Session, shop_id: UUID, section_id: UUID) -> bool:
    query = (
        select(Panel.sacrificial)
        .join(Section, (Panel.shop_id == Section.shop_id) & (Panel.id == Section.panel_id))
        .where(Section.shop_id == shop_id, Section.id == section_id)
    )
    return bool(session.scalar(query))


def _record(session: Session, shop_id: UUID, practical_id: UUID) -> StoredRecord | None:
    rows = session.scalars(
        select(SignedRecord)
        .where(SignedRecord.shop_id == shop_id, SignedRecord.practical_id == practical_id)
        .order_by(SignedRecord.frozen_at.desc())
    ).all()
    return (
        StoredRecord(rows[0].id, rows[0].record, rows[0].digest, rows[0].salts, rows[0].frozen_at)
        if rows
        else None
    )


def _signatures(
    session: Session, shop_id: UUID, record: StoredRecord | None
) -> tuple[StoredSignature, ...]:
    if record is None:
        return ()
    rows = session.execute(
        select(
            Signature.person_id,
            Person.name,
            Signature.meaning,
            Signature.signed_at,
            Signature.record_digest,
            Signature.late_reason,
        )
        .join(Person, Person.id == Signature.person_id)
        .where(Signature.shop_id == shop_id, Signature.record_id == record.id)
        .order_by(Signature.signed_at, Signature.id)
    )
    return tuple(StoredSignature(*row) for row in rows)


def _photographs(
    session: Session, shop_id: UUID, practical_id: UUID
) -> tuple[StoredPhotograph, ...]:
    rows = session.execute(
        select(
            Photograph.id,
            Photograph.digest,
            Photograph.caption,
            Photograph.taken_at,
            Photograph.stage,
        )
        .where(Photograph.shop_id == shop_id, Photograph.practical_id == practical_id)
        .order_by(Photograph.taken_at, Photograph.id)
    )
    return tuple(StoredPhotograph(*row) for row in rows)
