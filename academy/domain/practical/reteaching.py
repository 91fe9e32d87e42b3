"""What follows an assessed practical that was not yet competent: teach it again before it is tried again."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from uuid import UUID

from academy.domain.curriculum.course import Course
from academy.domain.curriculum.tasks import Drill, PracticalTask
from academy.domain.practical.outcome import Judged
from academy.domain.practical.refusals import PracticalError

# Common practice, no source: long enough to book a panel, short enough to remember what went wrong.
DUE_IN = timedelta(days=14)


@dataclass(frozen=True, slots=True)
class Reteaching:
    """One plan, and when a coached practical of its task was closed since, if one was."""

    practical_id: UUID
    task_title: str
    responsible: str
    due_on: date
    made_at: datetime
    coached_at: datetime | None

    @property
    def done(self) -> bool:
        """Return whether it was taught again."""
        return self.coached_at is not None


@dataclass(eq=False)
class ReteachFirst(PracticalError):
    """The last assessed practical was not yet competent, and nobody has taught it again."""

    template = (
        "'%(task)s' was not yet competent. Before it is assessed again, a coached practical of it"
        " is done: %(responsible)s, by %(due_on)s. Open this one as coached"
    )
    task: str
    responsible: str
    due_on: date


@dataclass(eq=False)
class PlanIsDone(PracticalError):
    """Nothing is left to change."""

    template = "This has been taught again already; the plan stays as it was"


@dataclass(eq=False)
class NoNextDrill(PracticalError):
    """The talk ends with a drill."""

    template = "Choose the drill to do next; it is one of those that practise this task"


def refuse_other_drill(chosen: str, drills: Sequence[str]) -> None:
    """Raise NoNextDrill where the talk names none of the task's drills, if it has any."""
    if drills and chosen not in drills:
        raise NoNextDrill()


def refuse_untaught(plans: Sequence[Reteaching]) -> None:
    """Raise ReteachFirst while a plan of the task has not been carried out."""
    waiting = next((plan for plan in plans if not plan.done), None)
    if waiting is not None:
        raise ReteachFirst(waiting.task_title, waiting.responsible, waiting.due_on)


def what_was_missed(outcome: Judged) -> str:
    """Return the text of the first criterion missed, a critical one before the others."""
    missed = [item.criterion for item in outcome.criteria if not item.met]
    missed.sort(key=lambda criterion: not criterion.critical)
    return missed[0].text if missed else ""


def drills_of(course: Course, task: PracticalTask) -> tuple[Drill, ...]:
    """Return the drills that practise a task, those that share most objectives with it first."""
    wanted = set(task.objectives)
    shared = {drill.id: len(wanted & set(drill.objectives)) for drill in course.drills}
    practised = [drill for drill in course.drills if shared[drill.id]]
    return tuple(sorted(practised, key=lambda drill: (-shared[drill.id], drill.title)))
