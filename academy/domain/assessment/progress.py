"""Whether a module is passed, from all of a person's submitted sittings."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum

from academy.domain.assessment.results import SittingResult


class Purpose(StrEnum):
    """Why a sitting was opened."""

    QUIZ = "quiz"
    MUST_KNOW_AGAIN = "must-know again"
    PRACTICE = "practice"
    REFRESHER = "refresher"
    EXAMINATION = "examination"

    @property
    def decides_module(self) -> bool:
        """Return whether such a sitting counts towards passing a module."""
        return self in {Purpose.QUIZ, Purpose.MUST_KNOW_AGAIN}

    @property
    def decides(self) -> bool:
        """Return whether such a sitting decides anything: a module or an examination."""
        return self.decides_module or self is Purpose.EXAMINATION

    @property
    def refreshes(self) -> bool:
        """Return whether its answers move the refresher gaps; practice never counts."""
        return self is not Purpose.PRACTICE


DECIDING_A_MODULE = frozenset(purpose for purpose in Purpose if purpose.decides_module)


@dataclass(frozen=True, slots=True)
class SubmittedSitting:
    """One submitted sitting of a module."""

    purpose: Purpose
    submitted_at: datetime
    result: SittingResult


@dataclass(frozen=True, slots=True)
class ModuleProgress:
    """Where a person is with one module's quiz.

    ``open_must_know`` are the must-know objectives still to be met after a quiz
    whose cut was reached; they are re-taught and asked again in other words.
    """

    passed_at: datetime | None
    open_must_know: tuple[str, ...]
    sittings: int


def module_progress(sittings: Sequence[SubmittedSitting]) -> ModuleProgress:
    """Return the progress after the sittings, in the order they were submitted.

    A quiz at or above its cut opens what it missed of the must-know
    objectives; each later sitting that meets one closes it.  The module is
    passed when none is left.  A later quiz below its cut takes nothing back.
    """
    reached = False
    missing: set[str] = set()
    passed_at: datetime | None = None
    for sitting in sorted(sittings, key=lambda sitting: sitting.submitted_at):
        met = {o.objective_id for o in sitting.result.objectives if o.met}
        if sitting.purpose is Purpose.QUIZ and sitting.result.reached_cut:
            missing = set(sitting.result.missed_must_know) if not reached else missing - met
            reached = True
        elif reached:
            missing -= met
        if reached and not missing and passed_at is None:
            passed_at = sitting.submitted_at
    return ModuleProgress(
        passed_at, tuple(sorted(missing)) if passed_at is None else (), len(sittings)
    )
