"""The stages of a practical and the order in which a task asks for them."""

from __future__ import annotations

from enum import StrEnum

from academy.domain.curriculum.tasks import PracticalTask

MACHINE_CAUTION = "rotating-pad"


class PracticalKind(StrEnum):
    """Chosen before the first reading; only assessed practicals are evidence."""

    COACHED = "coached"
    ASSESSED = "assessed"


class Stage(StrEnum):
    """What is recorded at the panel, in the order of the work.

    ``BETWEEN`` is never asked for: readings between working steps may be taken
    as often as they help.  ``STOPPED`` ends a practical at any stage.
    """

    FIRST_LOOK = "first-look"
    GAUGE = "gauge"
    BEFORE = "before"
    SET_UP = "set-up"
    PLAN = "plan"
    TEST_SPOT = "test-spot"
    WORKING = "working"
    BETWEEN = "between"
    TRAINEE_MARKS = "trainee-marks"
    INSPECTION = "inspection"
    COOLED = "cooled"
    AFTER = "after"
    CRITERIA = "criteria"
    TALK = "talk"
    STOPPED = "stopped"


ADDED_UP = frozenset({Stage.TEST_SPOT, Stage.WORKING, Stage.BETWEEN})
READ = frozenset({Stage.BEFORE, Stage.BETWEEN, Stage.AFTER})
_NEVER_ASKED = frozenset({Stage.BETWEEN, Stage.STOPPED})
_WITH_A_MACHINE = frozenset({Stage.FIRST_LOOK, Stage.PLAN, Stage.TEST_SPOT, Stage.WORKING})
_WITH_A_GAUGE = frozenset({Stage.GAUGE, Stage.BEFORE, Stage.COOLED, Stage.AFTER})


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


class AgainstReference(StrEnum):
    """How a finish looks beside the reference panel that shows just enough."""

    CLEARER = "clearer"
    SAME = "the same"
    WORSE = "worse"
    NO_PANEL = "no reference panel"


class StopReason(StrEnum):
    """Why work was stopped for safety; it is nobody's fault until somebody has looked."""

    PROTECTION = "protective equipment"
    MACHINE = "machine, cord or plug"
    HEAT = "heat"
    PAINT = "colour, primer or an edge"
    PERSON = "somebody unwell or tired"
    SURROUNDINGS = "something around the bay"
    OTHER = "something else"


def uses_a_machine(task: PracticalTask) -> bool:
    """Return whether a pad turns: paint comes off, or the task warns of the turning pad."""
    return task.limit_um is not None or MACHINE_CAUTION in task.cautions


def stages_of(task: PracticalTask) -> tuple[Stage, ...]:
    """Return the stages a task goes through, in order.

    A task with a removal limit is read before and after the work.  One with
    spots and no limit only measures, on a panel that was made ready first.  One
    without spots is judged by eye, and without a machine there are no working
    steps to time.
    """
    if task.limit_um is None and task.spots:
        return (Stage.SET_UP, Stage.GAUGE, Stage.BEFORE, Stage.CRITERIA, Stage.TALK)
    left_out = set(_NEVER_ASKED)
    if not uses_a_machine(task):
        left_out |= _WITH_A_MACHINE
    if task.limit_um is None:
        left_out |= _WITH_A_GAUGE
    return tuple(stage for stage in Stage if stage not in left_out)
