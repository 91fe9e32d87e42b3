"""Builders for assessed sections; every argument has a sound default."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta
from uuid import UUID, uuid4

from academy.domain.certification.evidence import PanelKind, PracticalEvidence
from academy.domain.metrology.section_reading import SectionReading

TASK = "polish a section"
FIRST_DAY = date(2026, 3, 2)
LIMIT_UM = 4.0
# a gauge that repeats to 0.5 µm, 4 spots of 5 readings a side
U_UM = 0.5 * (2 / 20) ** 0.5


def a_reading(
    removed_um: float = 1.5, u_um: float = U_UM, limit_um: float = LIMIT_UM
) -> SectionReading:
    """Return a section's reading."""
    return SectionReading(removed_um, u_um, limit_um)


def a_section(
    on: date = FIRST_DAY,
    competent: bool = True,
    removed_um: float | None = 1.5,
    *,
    hour: int = 10,
    panel: PanelKind | None = None,
    correction_met: bool | None = True,
    section_id: UUID | None = None,
    u_um: float = U_UM,
) -> PracticalEvidence:
    """Return an assessed section."""
    return PracticalEvidence(
        section_id or uuid4(),
        TASK,
        competent,
        datetime(on.year, on.month, on.day, hour, tzinfo=UTC),
        correction_met=correction_met,
        section=panel or PanelKind(),
        reading=None if removed_um is None else a_reading(removed_um, u_um),
    )


def day(number: int) -> date:
    """Return a day, counted from the first."""
    return FIRST_DAY + timedelta(days=number)


def sections(pattern: str, removed_um: float | None = 1.5) -> list[PracticalEvidence]:
    """Return a section a day: 'c' clean, 's' spoiled."""
    return [a_section(day(number), mark == "c", removed_um) for number, mark in enumerate(pattern)]
