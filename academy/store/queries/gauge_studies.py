"""Gauge studies: who reads next, and the readings so far."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal
from uuid import UUID

from sqlalchemy import select
from sqlalchemy.orm import Session

from academy.domain.metrology.crossed_study import Measurement
from academy.store.queries.workshop import sections
from academy.store.tables.gauge_checks import GaugeStudy, GaugeStudyRound
from academy.store.tables.people import Person


@dataclass(frozen=True, slots=True)
class Turn:
    """One page of a study: one person reads every section once."""

    round: int
    person_id: UUID
    person: str


@dataclass(frozen=True, slots=True)
class StudyRow:
    """A gauge study with its turns in order and what was read in each."""

    id: UUID
    gauge_id: UUID
    sections: tuple[str, ...]
    begun_at: datetime
    turns: tuple[Turn, ...]
    read_um: dict[tuple[int, UUID], tuple[Decimal, ...]]

    @property
    def next_turn(self) -> Turn | None:
        """Return whose turn it is, or None when every round is read."""
        return next(
            (turn for turn in self.turns if (turn.round, turn.person_id) not in self.read_um), None
        )

    def measurements(self) -> list[Measurement]:
        """Return every reading with its person and section."""
        return [
            Measurement(str(person_id), section, value)
            for (_round, person_id), values in self.read_um.items()
            for section, value in zip(self.sections, values, strict=True)
        ]


def study(session: Session, shop_id: UUID, study_id: UUID) -> StudyRow | None:
    """Return one study of a shop, or None."""
    row = session.get(GaugeStudy, (shop_id, study_id))
    if row is None:
        return None
    names = {one.id: one.name for one in sections(session, shop_id)}
    return StudyRow(
        row.id,
        row.gauge_id,
        tuple(names[UUID(section)] for section in row.sections),
        row.begun_at,
        _turns(session, row),
        _read(session, shop_id, study_id),
    )


def studies_of(session: Session, shop_id: UUID, gauge_id: UUID) -> Sequence[StudyRow]:
    """Return the studies of a gauge, newest first."""
    ids = session.scalars(
        select(GaugeStudy.id)
        .where(GaugeStudy.shop_id == shop_id, GaugeStudy.gauge_id == gauge_id)
        .order_by(GaugeStudy.begun_at.desc(), GaugeStudy.id)
    ).all()
    return [found for one in ids if (found := study(session, shop_id, one)) is not None]


def _turns(session: Session, row: GaugeStudy) -> tuple[Turn, ...]:
    people = [UUID(person) for person in row.people]
    names = {
        one.id: one.name
        for one in session.execute(select(Person.id, Person.name).where(Person.id.in_(people)))
    }
    # Round by round, so that nobody reads a section twice while they still remember it.
    return tuple(
        Turn(number, person, names[person])
        for number in range(1, row.repeats + 1)
        for person in people
    )


def _read(
    session: Session, shop_id: UUID, study_id: UUID
) -> dict[tuple[int, UUID], tuple[Decimal, ...]]:
    rows = session.scalars(
        select(GaugeStudyRound)
        .where(GaugeStudyRound.shop_id == shop_id, GaugeStudyRound.study_id == study_id)
        .order_by(GaugeStudyRound.round, GaugeStudyRound.recorded_at)
    )
    return {(row.round, row.person_id): tuple(map(Decimal, row.readings_um)) for row in rows}
