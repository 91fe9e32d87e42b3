"""The stages of a practical and the order in which a task asks for them."""

from __future__ import annotations

from enum import StrEnum

from academy.domain.curriculum.tasks import PracticalTask


class PracticalKind(StrEnum):
    """Chosen before the first reading; only assessed practicals are evidence."""

    COACHED = "coached"
    ASSESSED = "assessed"


class Stage(StrEnum):
    """What is recorded next at the panel."""

    BEFORE = "before"
    SET_UP = "set-up"
    WORKING = "working"
    INSPECTION = "inspection"
    AFTER = "after"
    CRITERIA = "criteria"
    TALK = "talk"


class Help(StrEnum):
    """How much the supervisor helped in a working step."""

    NONE = "none"
    PROMPTED = "prompted"
    TOOK_OVER = "took over"


class Pressure(StrEnum):
    """Three levels learnt on the bench scale."""

    LIGHT = "light"
    MEDIUM = "medium"
    FIRM = "firm"


def stages_of(task: PracticalTask) -> tuple[Stage, ...]:
    """Return the stages a task goes through, in order.

    A task with a removal limit is read before and after the work.  One with
    spots and no limit only measures.  One without spots is judged by eye.
    """
    if task.limit_um is not None:
        return tuple(Stage)
    if task.spots:
        return (Stage.SET_UP, Stage.BEFORE, Stage.CRITERIA, Stage.TALK)
    return (Stage.SET_UP, Stage.WORKING, Stage.INSPECTION, Stage.CRITERIA, Stage.TALK)
