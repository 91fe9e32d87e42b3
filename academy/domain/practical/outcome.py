"""What a practical shows: the removal, its verdict, and the outcome that follows from the criteria."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum

from academy.domain.curriculum.tasks import Criterion, PracticalTask
from academy.domain.metrology.removal import Removal, SpotReadings, removal_at_spots
from academy.domain.metrology.telling import Telling, more_readings_to_tell
from academy.domain.metrology.verdict import Outcome as RemovalOutcome
from academy.domain.metrology.verdict import Verdict, judge_removal
from academy.domain.practical.record import Practical
from academy.domain.practical.steps import Readings

MAY_MISS = 1


class Outcome(StrEnum):
    """The outcome of a practical; it follows from the criteria and cannot be typed."""

    COMPETENT = "competent"
    NOT_YET = "not yet competent"
    STOPPED = "stopped"


@dataclass(frozen=True, slots=True)
class GaugeFigures:
    """What the shop knows of its gauge, in micrometres."""

    resolution_um: Decimal
    repeatability_um: Decimal


@dataclass(frozen=True, slots=True)
class Measured:
    """The removal over the section and what it means against the task's limit.

    ``telling`` says for each spot that cannot be told how many more readings would.
    """

    removal: Removal
    verdict: Verdict
    telling: tuple[Telling, ...] = ()

    @property
    def within(self) -> bool:
        """Return whether the readings show that no spot lost more than the limit."""
        return self.verdict.outcome is RemovalOutcome.WITHIN


@dataclass(frozen=True, slots=True)
class CriterionOutcome:
    """One criterion as judged."""

    criterion: Criterion
    met: bool


@dataclass(frozen=True, slots=True)
class Judged:
    """The outcome with everything it follows from."""

    criteria: tuple[CriterionOutcome, ...]
    measured: Measured | None
    outcome: Outcome


def measured(
    task: PracticalTask, before: Readings, after: Readings, gauge: GaugeFigures | None
) -> Measured | None:
    """Return the removal and its verdict, or None where the task has no limit.

    Dropped readings stay on the record and out of the arithmetic.
    """
    if task.limit_um is None:
        return None
    spots = [
        SpotReadings(first.readings_um, second.readings_um)
        for first, second in zip(before.spots, after.spots, strict=True)
    ]
    removal = removal_at_spots(
        spots,
        gauge_sd_um=gauge.repeatability_um if gauge else None,
        resolution_um=gauge.resolution_um if gauge else None,
    )
    telling = (
        more_readings_to_tell(number, spot, taken, task.limit_um)
        for number, (spot, taken) in enumerate(zip(removal.per_spot, spots, strict=True), 1)
    )
    verdict = judge_removal(removal.per_spot, task.limit_um)
    undecided = verdict.outcome is RemovalOutcome.CANNOT_TELL
    return Measured(removal, verdict, tuple(says for says in telling if says) if undecided else ())


def measured_of(practical: Practical, gauge: GaugeFigures | None) -> Measured | None:
    """Return what the readings of a practical show so far, or None before they are complete."""
    if practical.before is None or practical.after is None:
        return None
    return measured(practical.task, practical.before, practical.after, gauge)


def judged(practical: Practical, gauge: GaugeFigures | None) -> Judged:
    """Return the outcome of a practical.

    Competent: every critical criterion is met and at most one of the others is
    not.  A measured criterion is met only when the readings show it; 'cannot
    tell' is not met.  Work stopped for safety has no such outcome: it says
    nothing about what the trainee can do.
    """
    shown = measured_of(practical, gauge)
    met = practical.judgement.met if practical.judgement else {}
    criteria = tuple(
        CriterionOutcome(
            criterion,
            bool(shown and shown.within) if criterion.measured else bool(met.get(criterion.id)),
        )
        for criterion in practical.task.criteria
    )
    return Judged(criteria, shown, Outcome.STOPPED if practical.stopped else _outcome(criteria))


def _outcome(criteria: tuple[CriterionOutcome, ...]) -> Outcome:
    missed = [outcome.criterion for outcome in criteria if not outcome.met]
    if any(criterion.critical for criterion in missed) or len(missed) > MAY_MISS:
        return Outcome.NOT_YET
    return Outcome.COMPETENT
