"""A practical as one document that grows by steps and is then frozen."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import datetime
from typing import TypeVar
from uuid import UUID

from academy.domain.curriculum.tasks import PracticalTask
from academy.domain.practical.completeness import refuse_incomplete
from academy.domain.practical.frozen import RECORDS
from academy.domain.practical.order import refuse_out_of_order
from academy.domain.practical.refusals import (
    NoReasonToStop,
    PracticalIsClosed,
    StageNotReached,
    StepOfAnotherStage,
)
from academy.domain.practical.stages import READ, Help, PracticalKind, Stage, stages_of
from academy.domain.practical.steps import (
    Inspection,
    Judgement,
    Plan,
    Readings,
    SetUp,
    Step,
    Stopped,
    Talk,
    TestSpot,
    TraineeMarks,
    WorkingStep,
)

Body = TypeVar("Body")


@dataclass(frozen=True, slots=True)
class Practical:
    """One supervised piece of panel work.  ``kind`` is fixed when it is opened.

    ``order`` holds the stages it was opened with: a practical goes on as it
    began, whatever later versions ask.  Empty: those of the task.
    """

    id: UUID
    trainee_id: UUID
    supervisor_id: UUID
    task: PracticalTask
    kind: PracticalKind
    opened_at: datetime
    steps: tuple[Step, ...] = ()
    closed_at: datetime | None = None
    order: tuple[Stage, ...] = ()

    @property
    def version(self) -> int:
        """Return the number of steps recorded; a page that shows fewer is stale."""
        return len(self.steps)

    @property
    def stages(self) -> tuple[Stage, ...]:
        """Return the stages of the task, in order."""
        return self.order or stages_of(self.task)

    @property
    def done(self) -> frozenset[Stage]:
        """Return the stages that stand.

        Another working step takes back what was seen and waited for after the
        one before: the panel is wiped, looked at and cooled again.
        """
        done: set[Stage] = set()
        for step in self.steps:
            done.add(step.stage)
            if step.stage is Stage.WORKING and step.stage in self.stages:
                done -= set(self.stages[self.stages.index(Stage.WORKING) + 1 :])
        return frozenset(done)

    @property
    def next_stage(self) -> Stage | None:
        """Return the first stage with nothing recorded, or None when all have."""
        return next((stage for stage in self.stages if stage not in self.done), None)

    @property
    def before(self) -> Readings | None:
        """Return the readings before the work."""
        return self._latest(Stage.BEFORE, Readings)

    @property
    def after(self) -> Readings | None:
        """Return the readings after the work."""
        return self._latest(Stage.AFTER, Readings)

    @property
    def between(self) -> tuple[Readings, ...]:
        """Return all rounds of readings between working steps, in order."""
        return tuple(
            step.body
            for step in self.steps
            if step.stage is Stage.BETWEEN and isinstance(step.body, Readings)
        )

    @property
    def newest_readings(self) -> Readings | None:
        """Return what the section read last."""
        rounds = [step.body for step in self.steps if isinstance(step.body, Readings)]
        return rounds[-1] if rounds else None

    @property
    def steps_since_readings(self) -> int:
        """Return how many working steps nobody has read after yet."""
        count = 0
        for step in self.steps:
            if step.stage in READ:
                count = 0
            count += step.stage is Stage.WORKING
        return count

    @property
    def set_up(self) -> SetUp | None:
        """Return the set-up checks seen present."""
        return self._latest(Stage.SET_UP, SetUp)

    @property
    def plan(self) -> Plan | None:
        """Return what the trainee meant to do."""
        return self._latest(Stage.PLAN, Plan)

    @property
    def test_spots(self) -> tuple[TestSpot, ...]:
        """Return all test spots in order."""
        return tuple(step.body for step in self.steps if isinstance(step.body, TestSpot))

    @property
    def working_steps(self) -> tuple[WorkingStep, ...]:
        """Return all working steps in order."""
        return tuple(step.body for step in self.steps if isinstance(step.body, WorkingStep))

    @property
    def trainee_marks(self) -> TraineeMarks | None:
        """Return what the trainee saw after the wipe."""
        return self._latest(Stage.TRAINEE_MARKS, TraineeMarks)

    @property
    def inspection(self) -> Inspection | None:
        """Return what was seen after the panel wipe."""
        return self._latest(Stage.INSPECTION, Inspection)

    @property
    def judgement(self) -> Judgement | None:
        """Return how the criteria were judged."""
        return self._latest(Stage.CRITERIA, Judgement)

    @property
    def talk(self) -> Talk | None:
        """Return what was said at the end."""
        return self._latest(Stage.TALK, Talk)

    @property
    def stopped(self) -> Stopped | None:
        """Return why work was stopped for safety, or None."""
        return self._latest(Stage.STOPPED, Stopped)

    @property
    def machine_work(self) -> tuple[WorkingStep, ...]:
        """Return everything done with a machine: test spots and working steps."""
        return (*(spot.step for spot in self.test_spots), *self.working_steps)

    @property
    def taken_over(self) -> bool:
        """Return whether the supervisor took over; such work is no evidence."""
        return any(step.help_given is Help.TOOK_OVER for step in self.working_steps)

    def _latest(self, stage: Stage, kind: type[Body]) -> Body | None:
        bodies = [step.body for step in self.steps if step.stage is stage]
        return bodies[-1] if bodies and isinstance(bodies[-1], kind) else None


def record(practical: Practical, step: Step) -> Practical:
    """Return the practical with one more step.

    Raises
    ------
    PracticalIsClosed, StageNotAsked, StageNotReached, StageIsOver
        The step does not come now.
    SetUpIncomplete, WrongSpots, TooFewReadings, CriterionNotJudged, NothingSaid, …
        The step is not complete.
    StepOfAnotherStage, NotOnTheTask
        The step records something else.
    """
    if practical.closed_at is not None:
        raise PracticalIsClosed()
    refuse_out_of_order(practical.task.title, practical.stages, practical.done, step.stage)
    if not isinstance(step.body, RECORDS[step.stage]):
        raise StepOfAnotherStage(step.stage)
    refuse_incomplete(practical.task, step.stage, step.body)
    return replace(practical, steps=(*practical.steps, step))


def stop(practical: Practical, step: Step) -> Practical:
    """End a practical for safety, whatever has been recorded so far.

    Raises
    ------
    PracticalIsClosed
        It already is.
    StepOfAnotherStage, NoReasonToStop
        The step does not say why.
    """
    if practical.closed_at is not None:
        raise PracticalIsClosed()
    if step.stage is not Stage.STOPPED or not isinstance(step.body, Stopped):
        raise StepOfAnotherStage(step.stage)
    if not step.body.says.strip():
        raise NoReasonToStop()
    return replace(practical, steps=(*practical.steps, step), closed_at=step.recorded_at)


def close(practical: Practical, at: datetime) -> Practical:
    """Freeze the record at the panel.

    Raises
    ------
    PracticalIsClosed
        It already is.
    StageNotReached
        A stage of the task is missing.
    """
    if practical.closed_at is not None:
        raise PracticalIsClosed()
    missing = practical.next_stage
    if missing is not None:
        raise StageNotReached("close", missing)
    return replace(practical, closed_at=at)
