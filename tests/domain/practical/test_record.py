"""A practical grows by steps in their order, refuses what does not fit, and is then frozen."""

from __future__ import annotations

from dataclasses import replace

import pytest

from academy.domain.curriculum.tasks import PracticalTask
from academy.domain.practical.record import Practical, close, record
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
from academy.domain.practical.stages import Help, Stage, stages_of
from academy.domain.practical.steps import Inspection, Judgement, Readings, SetUp, StepBody, Talk
from tests.support.clock import NOW, later
from tests.support.course import a_measuring_task, a_task, a_task_by_eye
from tests.support.panel_work import (
    a_finished_practical,
    a_practical,
    a_step,
    a_working_step,
    all_met,
    bodies,
    readings,
)

TASK = a_task()
GOOD = dict(bodies(TASK))
TASKS = [a_task(), a_measuring_task(), a_task_by_eye()]


def up_to(stage: Stage, task: PracticalTask = TASK) -> Practical:
    """Return a practical in which every stage before this one is recorded."""
    practical = a_practical(task=task)
    for earlier, body in bodies(task):
        if earlier is stage:
            break
        practical = record(practical, a_step(earlier, body))
    return practical


@pytest.mark.parametrize("task", TASKS, ids=lambda task: task.id)
def test_a_practical_with_every_stage_recorded_in_order_can_be_closed(task: PracticalTask) -> None:
    practical = a_finished_practical(task=task)
    assert practical.next_stage is None
    assert practical.version == len(stages_of(task))
    closed = close(practical, later(minutes=30))
    assert closed.closed_at == later(minutes=30)
    assert closed.steps == practical.steps


@pytest.mark.parametrize("task", TASKS, ids=lambda task: task.id)
@pytest.mark.parametrize("place", range(7))
def test_the_next_stage_is_the_first_with_nothing_recorded(task: PracticalTask, place: int) -> None:
    stages = stages_of(task)
    stage = stages[min(place, len(stages) - 1)]
    assert up_to(stage, task).next_stage is stage


@pytest.mark.parametrize(
    ("recorded", "tried"),
    [
        (recorded, tried)
        for recorded in Stage
        for tried in Stage
        if list(Stage).index(tried) > list(Stage).index(recorded)
    ],
)
def test_no_stage_is_skipped(recorded: Stage, tried: Stage) -> None:
    """``recorded`` is the first stage still missing; nothing behind it may come."""
    with pytest.raises(StageNotReached) as refusal:
        record(up_to(recorded), a_step(tried, GOOD[tried]))
    assert (refusal.value.stage, refusal.value.missing) == (tried, recorded)


@pytest.mark.parametrize(
    ("task", "stage"),
    [
        (a_measuring_task(), Stage.WORKING),
        (a_measuring_task(), Stage.AFTER),
        (a_task_by_eye(), Stage.BEFORE),
        (a_task_by_eye(), Stage.AFTER),
    ],
    ids=lambda given: getattr(given, "id", given),
)
def test_a_stage_the_task_does_not_have_is_refused(task: PracticalTask, stage: Stage) -> None:
    with pytest.raises(StageNotAsked, match=f"'{stage}' is not part of the task"):
        record(a_practical(task=task), a_step(stage, GOOD[stage]))


@pytest.mark.parametrize("stage", [Stage.BEFORE, Stage.SET_UP])
def test_what_was_read_before_the_work_is_fixed_once_paint_has_been_worked(stage: Stage) -> None:
    before_work = up_to(Stage.WORKING)
    record(before_work, a_step(stage, GOOD[stage]))
    with pytest.raises(StageIsOver):
        record(up_to(Stage.INSPECTION), a_step(stage, GOOD[stage]))


def test_nobody_works_on_after_the_readings_after_the_work() -> None:
    worked_on = record(up_to(Stage.AFTER), a_step(Stage.WORKING, a_working_step()))
    assert len(worked_on.working_steps) == 2
    with pytest.raises(StageIsOver, match="'after' has been recorded since"):
        record(up_to(Stage.CRITERIA), a_step(Stage.WORKING, a_working_step()))


@pytest.mark.parametrize("stage", [Stage.INSPECTION, Stage.AFTER, Stage.CRITERIA, Stage.TALK])
def test_other_stages_may_be_recorded_again_and_the_latest_counts(stage: Stage) -> None:
    newer: dict[Stage, StepBody] = {
        Stage.INSPECTION: Inspection("nothing", "nothing"),
        Stage.AFTER: readings(["108.0", "108.5"]),
        Stage.CRITERIA: Judgement({"cord safe": False, "even arm": True, "clean wipe": True}),
        Stage.TALK: Talk("steady", "slower"),
    }
    practical = record(a_finished_practical(), a_step(stage, newer[stage]))
    latest = {
        Stage.INSPECTION: practical.inspection,
        Stage.AFTER: practical.after,
        Stage.CRITERIA: practical.judgement,
        Stage.TALK: practical.talk,
    }
    assert latest[stage] == newer[stage]
    assert practical.version == 8


@pytest.mark.parametrize("present", [(), ("goggles on",), ("cord over the shoulder",)])
def test_work_does_not_start_while_a_set_up_check_is_missing(present: tuple[str, ...]) -> None:
    with pytest.raises(SetUpIncomplete) as refusal:
        record(up_to(Stage.SET_UP), a_step(Stage.SET_UP, SetUp(present)))
    missing = [check for check in TASK.set_up_checks if check not in present]
    assert refusal.value.missing == "; ".join(missing)


def _only(spots: int) -> Readings:
    return readings(["110.0"] * spots)


@pytest.mark.parametrize(
    "given",
    [
        pytest.param(_only(0), id="none"),
        pytest.param(_only(1), id="one spot left out"),
        pytest.param(_only(3), id="one spot too many"),
        pytest.param(Readings(_only(2).spots[::-1]), id="in another order"),
        pytest.param(Readings((_only(1).spots[0], _only(1).spots[0])), id="one spot twice"),
    ],
)
@pytest.mark.parametrize("stage", [Stage.BEFORE, Stage.AFTER])
def test_readings_cover_every_spot_once_and_in_order(stage: Stage, given: Readings) -> None:
    with pytest.raises(WrongSpots):
        record(up_to(stage), a_step(stage, given))


def test_a_spot_needs_as_many_readings_as_the_task_says() -> None:
    enough, short = readings(["110.0"] * 2).spots
    short = replace(short, readings_um=short.readings_um[:2], dropped_um=short.readings_um[:1])
    with pytest.raises(TooFewReadings) as refusal:
        record(up_to(Stage.BEFORE), a_step(Stage.BEFORE, Readings((enough, short))))
    assert str(refusal.value) == "Spot 2 needs 3 readings; 2 taken"


@pytest.mark.parametrize("left_out", ["cord safe", "even arm", "clean wipe"])
def test_every_criterion_the_supervisor_judges_has_to_be_judged(left_out: str) -> None:
    met = {name: True for name in all_met(TASK).met if name != left_out}
    with pytest.raises(CriterionNotJudged, match=left_out.capitalize()):
        record(up_to(Stage.CRITERIA), a_step(Stage.CRITERIA, Judgement(met)))


@pytest.mark.parametrize("talk", [Talk("", "slower"), Talk("steady", "  "), Talk(" ", "\n")])
def test_the_talk_says_what_was_good_and_what_to_change(talk: Talk) -> None:
    with pytest.raises(NothingSaid):
        record(up_to(Stage.TALK), a_step(Stage.TALK, talk))


@pytest.mark.parametrize(
    ("stage", "body"),
    [
        (Stage.SET_UP, SetUp((*TASK.set_up_checks, "Mira was late"))),
        (Stage.CRITERIA, Judgement({**all_met(TASK).met, "Mira was late": True})),
    ],
    ids=["check", "criterion"],
)
def test_only_the_tasks_own_checks_and_criteria_are_recorded(stage: Stage, body: StepBody) -> None:
    """They enter the signed bytes as they stand, so nobody's words may."""
    with pytest.raises(NotOnTheTask, match="Mira was late"):
        record(up_to(stage), a_step(stage, body))


@pytest.mark.parametrize(
    ("stage", "other"),
    [
        (stage, other)
        for stage in Stage
        for other in Stage
        if type(GOOD[other]) is not type(GOOD[stage])
    ],
)
def test_a_stage_records_only_its_own_kind_of_step(stage: Stage, other: Stage) -> None:
    with pytest.raises(StepOfAnotherStage):
        record(up_to(stage), a_step(stage, GOOD[other]))


@pytest.mark.parametrize("stage", Stage)
def test_a_practical_with_a_stage_missing_cannot_be_closed(stage: Stage) -> None:
    with pytest.raises(StageNotReached) as refusal:
        close(up_to(stage), NOW)
    assert refusal.value.missing == stage


@pytest.mark.parametrize("stage", Stage)
def test_nothing_is_recorded_in_a_closed_practical(stage: Stage) -> None:
    closed = close(a_finished_practical(), NOW)
    with pytest.raises(PracticalIsClosed):
        record(closed, a_step(stage, GOOD[stage]))


def test_a_practical_is_closed_once() -> None:
    closed = close(a_finished_practical(), NOW)
    with pytest.raises(PracticalIsClosed):
        close(closed, later(minutes=1))


def test_recording_leaves_the_earlier_practical_as_it_was() -> None:
    opened = a_practical()
    grown = record(opened, a_step(Stage.BEFORE, GOOD[Stage.BEFORE]))
    assert opened.version == 0
    assert grown.version == 1


@pytest.mark.parametrize("help_given", Help)
def test_only_taking_over_is_taking_over(help_given: Help) -> None:
    steps = {Stage.WORKING: a_working_step(help_given=help_given)}
    practical = a_finished_practical(dict(steps))
    assert practical.taken_over is (help_given is Help.TOOK_OVER)


def test_taking_over_once_stays_taking_over() -> None:
    practical = up_to(Stage.WORKING)
    for help_given in (Help.TOOK_OVER, Help.NONE):
        practical = record(practical, a_step(Stage.WORKING, a_working_step(help_given=help_given)))
    assert practical.taken_over
