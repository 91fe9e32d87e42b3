"""What has come off each section, session by session, and what is prepared on it."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from uuid import UUID

from sqlalchemy import select
from sqlalchemy.orm import Session

from academy.domain.metrology.budget import History
from academy.domain.workshop.panels import (
    ClearCoat,
    Curvature,
    SectionState,
    SessionOnSection,
    WorkedSection,
    section_state,
)
from academy.store.queries.workshop import SectionRow, sections
from academy.store.tables.panel_work import PreparedDefect
from academy.store.tables.people import Person
from academy.store.tables.practicals import Practical, SignedRecord
from academy.store.tables.workshop import Panel


@dataclass(frozen=True, slots=True)
class PanelRow:
    """A panel and what is known of its paint."""

    id: UUID
    label: str
    substrate: str
    paint_system: str
    curvature: Curvature
    colour: str
    clear_coat: ClearCoat
    history: History
    sacrificial: bool


@dataclass(frozen=True, slots=True)
class DefectRow:
    """A defect made on purpose."""

    id: UUID
    section_id: UUID
    defect: str
    how_made: str
    severity: int
    photograph_digest: str | None
    made_at: datetime
    made_by: str


@dataclass(frozen=True, slots=True)
class SectionLeft:
    """A section with its state, its sessions and its prepared defects, newest first.

    ``prepared`` says that a defect was made after the last session.
    """

    section: SectionRow
    state: SectionState
    sessions: tuple[SessionOnSection, ...]
    defects: tuple[DefectRow, ...]

    @property
    def prepared(self) -> bool:
        """Return whether there is a defect that nobody has worked on yet."""
        last = max((session.at for session in self.sessions), default=None)
        return any(last is None or defect.made_at > last for defect in self.defects)

    def worked(self) -> WorkedSection:
        """Return what the list of sections left needs."""
        row = self.section
        return WorkedSection(
            row.name, row.substrate, row.spots, self.state.left_um, row.sacrificial, self.prepared
        )


def panel(session: Session, shop_id: UUID, panel_id: UUID) -> PanelRow | None:
    """Return one panel of a shop, or None."""
    row = session.get(Panel, (shop_id, panel_id))
    if row is None:
        return None
    return PanelRow(
        row.id,
        row.label,
        row.substrate,
        row.paint_system,
        row.curvature,
        row.colour,
        row.clear_coat,
        row.history,
        row.sacrificial,
    )


def sections_left(
    session: Session, shop_id: UUID, panel_id: UUID | None = None
) -> Sequence[SectionLeft]:
    """Return the sections of a shop, or of one panel, with what has come off them."""
    worked, defects = _sessions(session, shop_id), _defects(session, shop_id)
    return [
        SectionLeft(
            row,
            section_state(worked[row.id], row.budget_um, row.spots),
            tuple(worked[row.id]),
            tuple(defects[row.id]),
        )
        for row in sections(session, shop_id)
        if panel_id is None or row.panel_id == panel_id
    ]


def defect_photograph(session: Session, shop_id: UUID, defect_id: UUID) -> str | None:
    """Return the digest of a prepared defect's photograph, or None."""
    row = session.get(PreparedDefect, (shop_id, defect_id))
    return row.photograph_digest if row else None


def _sessions(session: Session, shop_id: UUID) -> Mapping[UUID, list[SessionOnSection]]:
    """Return each section's closed practicals with readings, oldest first.

    An amended record stands in place of the one it supersedes.
    """
    rows = session.execute(
        select(
            SignedRecord.id,
            SignedRecord.supersedes_id,
            SignedRecord.record,
            Practical.section_id,
            Practical.closed_at,
        )
        .join(
            Practical,
            (Practical.shop_id == SignedRecord.shop_id)
            & (Practical.id == SignedRecord.practical_id),
        )
        .where(SignedRecord.shop_id == shop_id)
        .order_by(Practical.closed_at, SignedRecord.id)
    ).all()
    superseded = {row.supersedes_id for row in rows}
    found: dict[UUID, list[SessionOnSection]] = defaultdict(list)
    for row in rows:
        measured = row.record["measured"]
        if row.id in superseded or not measured or row.closed_at is None:
            continue
        removed = tuple(spot[0] for spot in measured["removal"]["per_spot"])
        found[row.section_id].append(SessionOnSection(row.closed_at, removed))
    return found


def _defects(session: Session, shop_id: UUID) -> Mapping[UUID, list[DefectRow]]:
    rows = session.execute(
        select(PreparedDefect, Person.name)
        .join(Person, Person.id == PreparedDefect.made_by)
        .where(PreparedDefect.shop_id == shop_id)
        .order_by(PreparedDefect.made_at.desc(), PreparedDefect.id)
    )
    found: dict[UUID, list[DefectRow]] = defaultdict(list)
    for row, name in rows:
        found[row.section_id].append(
            DefectRow(
                row.id,
                row.section_id,
                row.defect,
                row.how_made,
                row.severity,
                row.photograph_digest,
                row.made_at,
                name,
            )
        )
    return found
