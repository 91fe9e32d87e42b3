"""Practice work outside the practicals: how far somebody came at a task, from watching to alone.

Entries are only added.  A correction is an entry that takes the place of an
earlier one and says why; a drill is logged and never assessed.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date
from enum import StrEnum
from uuid import UUID

from academy.domain.curriculum.kinds import Supervision
from academy.domain.sentences import TradeError


class PracticeStage(StrEnum):
    """What somebody's part in a piece of work was, lowest first."""

    OBSERVED = "observed"
    ASSISTED = "assisted"
    SUPERVISED = "supervised"
    ALONE = "alone"

    @property
    def rank(self) -> int:
        """Return 0 for 'observed' up to 3 for 'alone'."""
        return list(PracticeStage).index(self)


class EntryKind(StrEnum):
    """What an entry is about."""

    PRACTICE = "practice"
    DRILL = "drill"


@dataclass(eq=False)
class NotAloneYet(TradeError):
    """The level does not allow working alone."""

    template = (
        "At '%(task)s' this person's level is '%(level)s'. Work alone is entered when the level"
        " allows it; enter it as supervised, or tell the owner if it was done alone"
    )
    task: str
    level: str


@dataclass(eq=False)
class DayToCome(TradeError):
    """The day has not been yet."""

    template = "That day is still to come; enter work when it is done"


@dataclass(eq=False)
class NotTheirOwnEntry(TradeError):
    """Nobody confirms their own work."""

    template = "Nobody confirms their own entry; a supervisor who saw the work has to"


@dataclass(eq=False)
class NothingToConfirm(TradeError):
    """A drill, or an entry that was replaced."""

    template = "This entry does not need to be confirmed"


@dataclass(eq=False)
class AlreadyCorrected(TradeError):
    """Somebody corrected the entry before."""

    template = "This entry has been corrected already; correct the newer one"


@dataclass(eq=False)
class NoReason(TradeError):
    """A correction without a reason."""

    template = "Say why the entry is corrected"


@dataclass(frozen=True, slots=True)
class Practised:
    """One entry that counts: what, how, when, and whether a supervisor confirmed it."""

    task_id: str
    stage: PracticeStage
    on: date
    confirmed: bool


@dataclass(frozen=True, slots=True)
class TaskPractice:
    """How far somebody came at one task: confirmed entries by stage, and what waits."""

    task_id: str
    counts: Mapping[PracticeStage, int]
    waiting: int
    last_on: date

    @property
    def reached(self) -> PracticeStage | None:
        """Return the highest stage a supervisor has confirmed, or None."""
        return max(self.counts, key=lambda stage: stage.rank, default=None)


def practice_by_task(entries: Iterable[Practised]) -> tuple[TaskPractice, ...]:
    """Return what was practised, one line a task, in any order of the entries; latest first."""
    of_task: dict[str, list[Practised]] = {}
    for entry in entries:
        of_task.setdefault(entry.task_id, []).append(entry)
    lines = [_line(task_id, practised) for task_id, practised in of_task.items()]
    return tuple(sorted(lines, key=lambda line: (-line.last_on.toordinal(), line.task_id)))


def refuse_alone(stage: PracticeStage | None, level: Supervision, task_title: str) -> None:
    """Raise NotAloneYet where somebody without the level is entered as working alone."""
    if stage is PracticeStage.ALONE and level is not Supervision.ALONE:
        raise NotAloneYet(task_title, level.value)


def refuse_day_to_come(day: date, today: date) -> None:
    """Raise DayToCome for a day that has not begun in the shop."""
    if day > today:
        raise DayToCome()


def refuse_confirming(actor_id: UUID, person_id: UUID, kind: EntryKind, replaced: bool) -> None:
    """Raise where this person does not confirm this entry: their own, a drill, or one replaced."""
    if actor_id == person_id:
        raise NotTheirOwnEntry()
    if kind is not EntryKind.PRACTICE or replaced:
        raise NothingToConfirm()


def _line(task_id: str, practised: list[Practised]) -> TaskPractice:
    counts = Counter(entry.stage for entry in practised if entry.confirmed)
    waiting = sum(not entry.confirmed for entry in practised)
    return TaskPractice(task_id, counts, waiting, max(entry.on for entry in practised))
