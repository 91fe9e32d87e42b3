"""When a quiz or examination may be sat again."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta

from academy.domain.assessment.results import SittingResult
from academy.domain.curriculum.course import Module
from academy.domain.curriculum.lessons import Lesson
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


def refuse_too_soon(failed_at: Collection[datetime], wait_days: int, now: datetime) -> None:
    """Raise TooSoon while the waiting time after the last failed sitting lasts.

    The day it names is one of the calendar that ``now`` is given on.
    """
    if not failed_at or not wait_days:
        return
    free_at = max(failed_at) + timedelta(days=wait_days)
    if now < free_at:
        raise TooSoon(free_at.astimezone(now.tzinfo).date().isoformat())


def to_restudy(
    result: SittingResult, modules: Sequence[Module], read_since: Collection[str]
) -> tuple[Lesson, ...]:
    """Return the lessons that teach what was missed and have not been read again since.

    ``read_since`` holds lessons as ``module/lesson``.
    """
    taught_in = {
        question.id: f"{question.teaches.module_id}/{question.teaches.lesson_id}"
        for module in modules
        for question in module.questions
    }
    missed = {
        taught_in[question.question_id]
        for question in result.questions
        if not question.right and question.question_id in taught_in
    }
    return tuple(
        lesson
        for module in modules
        for lesson in module.lessons
        if lesson.path in missed and lesson.path not in read_since
    )


def refuse_unread(
    result: SittingResult, modules: Sequence[Module], read_since: Collection[str]
) -> None:
    """Raise RestudyFirst while some lesson that teaches what was missed was not read again."""
    lessons = to_restudy(result, modules, read_since)
    if lessons:
        raise RestudyFirst(", ".join(lesson.title for lesson in lessons))
