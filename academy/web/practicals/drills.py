"""The drills that practise a task, to choose from and by name."""

from __future__ import annotations

from academy.domain.curriculum.tasks import PracticalTask
from academy.domain.practical.reteaching import drills_of
from academy.web.context import course
from academy.web.parts import Choosable


def drill_choices(task: PracticalTask) -> tuple[Choosable, ...]:
    """Return the drills of a task, those that practise most of it first."""
    return tuple(Choosable(drill.id, drill.title) for drill in drills_of(course(), task))


def drill_title(drill_id: str) -> str:
    """Return what a drill is called; its id where the course no longer has it."""
    found = next((drill.title for drill in course().drills if drill.id == drill_id), None)
    return found or drill_id
