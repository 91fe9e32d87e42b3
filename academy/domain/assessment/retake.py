"""When a quiz or examination may be sat again."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta

from academy.domain.assessment.progress import SubmittedSitting
from academy.domain.assessment.results import SittingResult
from academy.domain.sentences import TradeError


@dataclass(eq=False)
class TooSoon(TradeError):
    """The waiting time of the scheme has not passed."""

    template = "The next sitting may begin on %(from_day)s; until then read again what was missed"
    from_day: str


@dataclass(eq=False)
class RestudyFirst(TradeError):
    """What was missed has to be read again before the next sitting."""

    template = "Read again first: %(lessons)s"
    lessons: str


def refuse_too_soon(sittings: Sequence[SubmittedSitting], wait_days: int, now: datetime) -> None:
    """Raise TooSoon while the waiting time after the last failed sitting lasts."""
    failed = [sitting for sitting in sittings if not sitting.result.passed]
    if not failed or not wait_days:
        return
    free_at = max(sitting.submitted_at for sitting in failed) + timedelta(days=wait_days)
    if now < free_at:
        raise TooSoon(free_at.date().isoformat())


def to_restudy(
    result: SittingResult,
    taught_in: Mapping[str, str],
    read_since: Collection[str],
) -> tuple[str, ...]:
    """Return the lessons that teach what was missed and have not been read again since.

    ``taught_in`` maps a question to its lesson (``module/lesson``).
    """
    missed = (
        taught_in[question.question_id]
        for question in result.questions
        if not question.right and question.question_id in taught_in
    )
    return tuple(lesson for lesson in dict.fromkeys(missed) if lesson not in read_since)
