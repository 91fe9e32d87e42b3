"""When a step says everything its stage asks for."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from academy.domain.curriculum.tasks import PracticalTask
from academy.domain.practical.refusals import (
    CopiedWithoutSheet,
    CriterionNotJudged,
    ExpectationMissing,
    FoilIsOff,
    FoilNotRead,
    NothingSaid,
    NotOnTheTask,
    PhotographMissing,
    ProtectionIsNotLeftOut,
    ReasonMissing,
    SetUpIncomplete,
    TooFewReadings,
    WrongSpots,
)
from academy.domain.practical.stages import Stage, uses_a_machine
from academy.domain.practical.steps import (
    FirstLook,
    FoilReading,
    Judgement,
    Plan,
    Readings,
    SetUp,
    StepBody,
    Talk,
)

# What protects a person is never declared not to apply.
PROTECTIVE = ("protection", "protective", "gloves", "goggles", "respirator")


def protects(check: str) -> bool:
    """Return whether a set-up check is about protective equipment, by its words."""
    return any(word in check.lower() for word in PROTECTIVE)


def needs_taped_edge(task: PracticalTask) -> bool:
    """Return whether the taped edge is proved by a photograph: wherever a pad turns."""
    return uses_a_machine(task)


def needs_foil(task: PracticalTask) -> bool:
    """Return whether the gauge is proved on its foil: wherever spots are read."""
    return task.spots > 0


def refuse_incomplete(task: PracticalTask, stage: Stage, body: StepBody) -> None:
    """Raise a sentence for what is missing in a step."""
    match body:
        case FirstLook(photographs=()):
            raise PhotographMissing("the panel under the named light")
        case Readings() as readings:
            _refuse_missing_readings(task, readings)
        case SetUp() as set_up:
            _refuse_missing_checks(task, set_up)
            _refuse_unproved(task, set_up)
        case Plan() as plan:
            _refuse_no_expectation(task, plan)
        case Judgement(met):
            refuse_unknown(task, met, [criterion.id for criterion in task.criteria])
            for criterion in task.criteria:
                if not criterion.measured and criterion.id not in met:
                    raise CriterionNotJudged(criterion.text)
        case Talk(went_well, change_next):
            if not went_well.strip() or not change_next.strip():
                raise NothingSaid()


def refuse_unknown(task: PracticalTask, given: Iterable[str], known: Sequence[str]) -> None:
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
    if readings.copied and not readings.sheet:
        raise CopiedWithoutSheet()


def _refuse_missing_checks(task: PracticalTask, set_up: SetUp) -> None:
    refuse_unknown(task, set_up.present, task.set_up_checks)
    refuse_unknown(task, set_up.not_applying, task.set_up_checks)
    for check, reason in set_up.not_applying.items():
        if protects(check):
            raise ProtectionIsNotLeftOut(check)
        if not reason.strip():
            raise ReasonMissing(check)
    answered = {*set_up.present, *set_up.not_applying}
    missing = [check for check in task.set_up_checks if check not in answered]
    if missing:
        raise SetUpIncomplete("; ".join(missing))


def _refuse_unproved(task: PracticalTask, set_up: SetUp) -> None:
    if needs_foil(task):
        _refuse_foil(set_up.foil)
    if needs_taped_edge(task) and not set_up.taped_edge:
        raise PhotographMissing("the taped edge")


def _refuse_foil(foil: FoilReading | None) -> None:
    if foil is None:
        raise FoilNotRead()
    if not foil.holds:
        raise FoilIsOff(float(foil.reading_um), float(foil.certified_um), float(foil.allowed_um))


def _refuse_no_expectation(task: PracticalTask, plan: Plan) -> None:
    if not plan.says.strip():
        raise ExpectationMissing()
    if task.limit_um is not None and (plan.expected_um is None or plan.give_or_take_um is None):
        raise ExpectationMissing()
