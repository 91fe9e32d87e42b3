"""What is on record of a section before it is cut again."""

from __future__ import annotations

from statistics import mean
from uuid import UUID

from sqlalchemy import select
from sqlalchemy.orm import Session

from academy.domain.metrology.budget import Budget
from academy.domain.practical.cutting import SectionKnown
from academy.domain.practical.frozen import body_from_frozen
from academy.domain.practical.stages import READ, Stage
from academy.domain.practical.steps import Readings
from academy.store.queries.panels import sections_left
from academy.store.queries.shop_settings import policy
from academy.store.tables.practicals import Practical, PracticalStep
from academy.store.tables.workshop import Panel, Section


def section_known(session: Session, shop_id: UUID, section_id: UUID) -> SectionKnown | None:
    """Return what is known of a section of a shop, or None where there is no such section."""
    section = session.get(Section, (shop_id, section_id))
    if section is None:
        return None
    panel = session.get_one(Panel, (shop_id, section.panel_id))
    left = sections_left(session, shop_id, panel.id)
    return SectionKnown(
        panel.substrate,
        panel.history,
        panel.clear_coat,
        Budget(section.budget_um, policy(session, shop_id).car_floor_um),
        _first_readings(session, shop_id, section_id),
        next((one.state.used_um for one in left if one.section.id == section_id), 0.0),
        _neighbours_um(session, shop_id, panel.id, section_id),
    )


def _first_readings(session: Session, shop_id: UUID, section_id: UUID) -> Readings | None:
    """Return the first round ever read on a section: its baseline."""
    body = session.scalar(
        select(PracticalStep.body)
        .join(
            Practical,
            (Practical.shop_id == PracticalStep.shop_id)
            & (Practical.id == PracticalStep.practical_id),
        )
        .where(
            Practical.shop_id == shop_id,
            Practical.section_id == section_id,
            PracticalStep.stage == Stage.BEFORE,
        )
        .order_by(PracticalStep.recorded_at, PracticalStep.number)
        .limit(1)
    )
    read = body_from_frozen(Stage.BEFORE, body) if body else None
    return read if isinstance(read, Readings) else None


def _neighbours_um(
    session: Session, shop_id: UUID, panel_id: UUID, section_id: UUID
) -> float | None:
    """Return the mean of what the panel's other sections read last, in micrometres."""
    rows = session.execute(
        select(Practical.section_id, PracticalStep.stage, PracticalStep.body)
        .join(
            PracticalStep,
            (PracticalStep.shop_id == Practical.shop_id)
            & (PracticalStep.practical_id == Practical.id),
        )
        .join(
            Section, (Section.shop_id == Practical.shop_id) & (Section.id == Practical.section_id)
        )
        .where(
            Practical.shop_id == shop_id,
            Section.panel_id == panel_id,
            Practical.section_id != section_id,
            PracticalStep.stage.in_(READ),
        )
        .order_by(PracticalStep.recorded_at, PracticalStep.number)
    )
    newest = {row.section_id: body_from_frozen(row.stage, row.body) for row in rows}
    means = [_mean_um(read) for read in newest.values() if isinstance(read, Readings)]
    return mean(means) if means else None


def _mean_um(readings: Readings) -> float:
    return mean(float(value) for spot in readings.spots for value in spot.readings_um)
