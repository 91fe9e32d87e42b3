"""When an objective is asked again: expanding gaps, driven by scored answers alone.

After a right answer the gap grows, after a wrong one it goes back two steps;
nobody is asked how sure they feel.  The gaps are 2, 7, 21, 60 and 150 days and
never longer than the certificate's term.  The first gap of a yearly term lies
near the share of the term at which a first review helps most (N. J. Cepeda and
others 2008, Psychological Science 19, 1095: 5 to 10 % of a year; read in an
abstract).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta

GAPS_DAYS = (2, 7, 21, 60, 150)
HALF_STEPS_BACK = 4
ENOUGH_ANSWERS = 20
FIVE = 5


@dataclass(frozen=True, slots=True)
class ScoredAnswer:
    """One scored answer to a question of an objective.

    ``slow`` says that it took longer than nine in ten right answers to the same
    question; it is never set from fewer than twenty answers.
    """

    at: datetime
    marks: int
    slow: bool = False


@dataclass(frozen=True, slots=True)
class Refresher:
    """Where an objective stands: when it is asked again, and how long the gap is."""

    objective_id: str
    last_at: datetime
    gap_days: float

    @property
    def due_at(self) -> datetime:
        """Return when the gap ends."""
        return self.last_at + timedelta(days=self.gap_days)

    def overdue(self, now: datetime) -> float:
        """Return elapsed time over the gap; 1 or more is due."""
        return (now - self.last_at) / timedelta(days=self.gap_days)


def refresher(
    objective_id: str, answers: Sequence[ScoredAnswer], term_days: int
) -> Refresher | None:
    """Return when an objective is asked again after its answers, or None before the first.

    Steps are counted in halves: right is a whole step on, right but slow half a
    step, partly right (half of the marks or more) none, wrong two steps back.
    """
    if not answers:
        return None
    ordered = sorted(answers, key=lambda answer: answer.at)
    half_steps = 0
    for answer in ordered:
        half_steps = max(0, half_steps + _half_steps(answer))
    return Refresher(objective_id, ordered[-1].at, min(_gap_days(half_steps), term_days))


def most_due(refreshers: Sequence[Refresher], now: datetime) -> tuple[Refresher, ...]:
    """Return the objectives in the order to ask them, the most overdue first.

    The first five are asked.  When fewer are due, the ones nearest to it fill
    up: a short talk has always the same length, and nobody is shown a number
    owed.
    """
    return tuple(sorted(refreshers, key=lambda r: (-r.overdue(now), r.objective_id)))


def is_slow(seconds: float | None, seconds_of_right_answers: Sequence[float]) -> bool:
    """Return whether a right answer took longer than nine in ten; False below twenty answers.

    ``seconds`` is None where nobody knows how long it took.
    """
    if seconds is None or len(seconds_of_right_answers) < ENOUGH_ANSWERS:
        return False
    ordered = sorted(seconds_of_right_answers)
    rank = -(-9 * len(ordered) // 10)  # the smallest value with nine in ten at or below it
    return seconds > ordered[rank - 1]


def _half_steps(answer: ScoredAnswer) -> int:
    if answer.marks == 100:
        return 1 if answer.slow else 2
    return 0 if answer.marks >= 50 else -HALF_STEPS_BACK


def _gap_days(half_steps: int) -> float:
    """Return the gap after so many half steps; between two steps it is their mean."""
    step, half = divmod(half_steps, 2)
    lower = GAPS_DAYS[min(max(step - 1, 0), len(GAPS_DAYS) - 1)]
    upper = GAPS_DAYS[min(step, len(GAPS_DAYS) - 1)]
    return (lower + upper) / 2 if half else float(lower)
