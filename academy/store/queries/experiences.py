"""Prior experience as it was recorded."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from uuid import UUID

from sqlalchemy import select
from sqlalchemy.orm import Session, aliased

from academy.store.tables.examinations import PriorExperience
from academy.store.tables.people import Person


@dataclass(frozen=True, slots=True)
class ExperienceRow:
    """What experience was recorded for a person."""

    person_name: str
    modules: list[str]
    statement: str
    recorded_by_name: str
    recorded_at: datetime


def experiences(session: Session, shop_id: UUID) -> Sequence[ExperienceRow]:
    """Return the prior experience recorded in a shop, newest first."""
    recorder = aliased(Person)
    rows = session.execute(
        select(
            Person.name,
            PriorExperience.modules,
            PriorExperience.statement,
            recorder.name.label("recorder"),
            PriorExperience.recorded_at,
        )
        .join(Person, Person.id == PriorExperience.person_id)
        .join(recorder, recorder.id == PriorExperience.recorded_by)
        .where(PriorExperience.shop_id == shop_id)
        .order_by(PriorExperience.recorded_at.desc(), PriorExperience.id)
    )
    return [ExperienceRow(*row) for row in rows]


def experienced_modules(session: Session, shop_id: UUID, person_id: UUID) -> frozenset[str]:
    """Return the modules whose lessons a person may skip on stated prior experience."""
    rows = session.scalars(
        select(PriorExperience.modules).where(
            PriorExperience.shop_id == shop_id, PriorExperience.person_id == person_id
        )
    )
    return frozenset(module for modules in rows for module in modules)
