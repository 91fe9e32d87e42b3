"""What a person has done that a scheme can count."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date, datetime
from uuid import UUID


@dataclass(frozen=True, slots=True)
class PracticalEvidence:
    """One signed, assessed practical in which the supervisor did not take over.

    ``assessed_at`` is on the shop's clock.
    """

    practical_id: UUID
    task_id: str
    competent: bool
    assessed_at: datetime
    supervisor_id: UUID | None = None


@dataclass(frozen=True, slots=True)
class Evidence:
    """Everything counted for one person; ``practicals`` in any order.

    ``examinations`` maps a scheme to the day its examination was last passed.
    """

    modules_passed: Mapping[str, date]
    practicals: tuple[PracticalEvidence, ...]
    examinations: Mapping[str, date] = field(default_factory=dict)

    def run_of(self, task_id: str) -> tuple[PracticalEvidence, ...]:
        """Return the latest unbroken run of competent practicals of a task, oldest first.

        One judged not yet competent ends the run before it, so the run says
        what the person can do now, not what they once could.
        """
        of_task = sorted(
            (p for p in self.practicals if p.task_id == task_id),
            key=lambda p: (p.assessed_at, str(p.practical_id)),
        )
        run: list[PracticalEvidence] = []
        for practical in of_task:
            run = [*run, practical] if practical.competent else []
        return tuple(run)
