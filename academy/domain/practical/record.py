"""A practical as one document that grows by steps and is then frozen."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from typing import TypeVar
from uuid import UUID

from academy.domain.curriculum.tasks import PracticalTask
from academy.domain.practical.refusals import (
    CriterionNotJudged,
    NothingSaid,
    NotOnTheTask,
    PracticalIsClosed,
    SetUpIncomplete,
    StageIsOver,
    StageNotAsked,
    StageNotReached,
    StepOfAnotherStage,
    TooFewReadings,
    WrongSpots,
)
from academy.domain.practical.stages import Help, PracticalKind, Stage, stages_of
from academy.domain.practical.steps import (
    Inspection,
    Judgement,
    Readings,
    SetUp,
    Step,
    StepBody,
    Talk,
    WorkingStep,
)

Body = TypeVar("Body")

RECORDS: Mapping[Stage, type[StepBody]] = {
    Stage.BEFORE: Readings,
    Stage.SET_UP: SetUp,
    Stage.WORKING: WorkingStep,
    Stage.INSPECTION: Inspection,
    Stage.AFTER: Readings,
    Stage.CRITERIA: Judgement,
    Stage.TALK: Talk,
}


@dataclass(frozen=True, slots=True)
class Practical:
    """One supervised piece of panel work.  ``kind`` is fixed when it is opened."""

    id: UUID
    trainee_id: UUID
    supervisor_id: UUID
    task: PracticalTask
    kind: PracticalKind
    opened_at: datetime
    steps: tuple[Step, ...] = ()
    closed_at: datetime | None = None

    @property
    def version(self) -> int:
        """Return the number of steps recorded; a page that shows fewer is stale."""
        return len(self.steps)

    @property
    def stages(self) -> tuple[Stage, ...]:
        """Return the stages of the task, in order."""
        return stages_of(self.task)

    @property
    def next_stage(self) -> Stage | None:
        """Return the first stage with nothing recorded, or None when all have."""
        done = {step.stage for step in self.steps}
        return next((stage for stage in self.stages if stage not in done), None)

    @property
    def before(self) -> Readings | None:
        """Return the readings before the work."""
        return self._latest(Stage.BEFORE, Readings)

    @property
    def after(self) -> Readings | None:
        """Return the readings after the work."""
        return self._latest(Stage.AFTER, Readings)

    @property
    def set_up(self) -> SetUp | None:
        """Return the set-up checks seen present."""
        return self._latest(Stage.SET_UP, SetUp)

    @property
    def working_steps(self) -> tuple[WorkingStep, ...]:
        """Return all working steps in order."""
        return tuple(step.body for step in self.steps if isinstance(step.body, WorkingStep))

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
    SetUpIncomplete, WrongSpots, TooFewReadings, CriterionNotJudged, NothingSaid
        The step is not complete.
    StepOfAnotherStage, NotOnTheTask
        The step records something else.
    """
    if practical.closed_at is not None:
        raise PracticalIsClosed()
    _refuse_out_of_order(practical, step.stage)
    _refuse_incomplete(practical.task, step)
    return replace(practical, steps=(*practical.steps, step))


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


def _refuse_out_of_order(practical: Practical, stage: Stage) -> None:
    stages = practical.stages
    if stage not in stages:
        raise StageNotAsked(stage, practical.task.title)
    done = {step.stage for step in practical.steps}
    missing = next((s for s in stages[: stages.index(stage)] if s not in done), None)
    if missing is not None:
        raise StageNotReached(stage, missing)
    # once paint has been worked, what it read before the work is fixed
    if stage in {Stage.BEFORE, Stage.SET_UP} and Stage.WORKING in done:
        raise StageIsOver(stage, Stage.WORKING)
    if stage is Stage.WORKING and Stage.AFTER in done:
        raise StageIsOver(stage, Stage.AFTER)


def _refuse_incomplete(task: PracticalTask, step: Step) -> None:
    if not isinstance(step.body, RECORDS[step.stage]):
        raise StepOfAnotherStage(step.stage)
    match step.body:
        case Readings() as readings:
            _refuse_missing_readings(task, readings)
        case SetUp(present):
            _refuse_unknown(task, present, task.set_up_checks)
            missing = [check for check in task.set_up_checks if check not in present]
            if missing:
                raise SetUpIncomplete("; ".join(missing))
        case Judgement(met):
            _refuse_unknown(task, met, [criterion.id for criterion in task.criteria])
            for criterion in task.criteria:
                if not criterion.measured and criterion.id not in met:
                    raise CriterionNotJudged(criterion.text)
        case Talk(went_well, change_next):
            if not went_well.strip() or not change_next.strip():
                raise NothingSaid()


def _refuse_unknown(task: PracticalTask, given: Iterable[str], known: Sequence[str]) -> None:
    """Refuse names that are not the task's: they enter the signed bytes as they stand."""
    for name in given:
        if name not in known:
            raise NotOnTheTask(task.title, name)


def _refuse_missing_readings(task: PracticalTask, readings: Readings) -> None:
    if [spot.spot for spot in readings.spots] != list(range(1, task.spots + 1)):
        raise WrongSpots(task.spots, len(readings.spots))
    for spot in readings.spots:
        if len(spot.readings_um) < task.readings_per_spot:
            raise TooFewReadings(spot.spot, task.readings_per_spot, len(spot.readings_um))
