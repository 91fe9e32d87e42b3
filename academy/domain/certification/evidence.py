"""What a person has done that a scheme can count."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date, datetime
from itertools import groupby
from uuid import UUID

from academy.domain.metrology.section_reading import SectionReading


@dataclass(frozen=True, slots=True)
class PanelKind:
    """What a section was: its panel's shape and clear coat, and how bad the prepared defect was.

    None is 'not known' and adds nothing to a mix.  ``severity`` runs from 1 to 3.
    """

    panel_id: UUID | None = None
    curvature: str | None = None
    hardness: str | None = None
    severity: int | None = None


@dataclass(frozen=True, slots=True)
class PracticalEvidence:
    """One signed, assessed practical in which the supervisor did not take over: one section.

    ``correction_met`` says whether the defect was taken out, None where the
    task has no criterion for it; ``reading`` is None where no gauge reads the
    task or its scatter is not known. ``assessed_at`` is on the shop's clock.
    """

    practical_id: UUID
    task_id: str
    competent: bool
    assessed_at: datetime
    supervisor_id: UUID | None = None
    correction_met: bool | None = None
    section: PanelKind = PanelKind()
    reading: SectionReading | None = None

    @property
    def clean(self) -> bool:
        """Return whether the section is neither spoiled nor left uncorrected.

        The correction counts each time: whoever takes nothing off spoils
        nothing, and shows nothing.
        """
        return self.competent and self.correction_met is not False

    @property
    def on(self) -> date:
        """Return the day it was assessed."""
        return self.assessed_at.date()


@dataclass(frozen=True, slots=True)
class Evidence:
    """Everything counted for one person; ``practicals`` in any order.

    ``examinations`` maps a scheme to the day its examination was last passed.
    """

    modules_passed: Mapping[str, date]
    practicals: tuple[PracticalEvidence, ...]
    examinations: Mapping[str, date] = field(default_factory=dict)

    def of_task(self, task_id: str) -> tuple[PracticalEvidence, ...]:
        """Return the sections assessed at one task."""
        return tuple(p for p in self.practicals if p.task_id == task_id)

    def run_of(self, task_id: str) -> tuple[PracticalEvidence, ...]:
        """Return the latest unbroken run of clean sections of a task, oldest first.

        A day with one that was not clean ends the run and begins none: the run
        says what the person can do now, not what they once could.
        """
        in_order = sorted(self.of_task(task_id), key=lambda p: (p.assessed_at, str(p.practical_id)))
        run: tuple[PracticalEvidence, ...] = ()
        for _, of_day in groupby(in_order, key=lambda p: p.on):
            day = tuple(of_day)
            run = run + day if all(practical.clean for practical in day) else ()
        return run
