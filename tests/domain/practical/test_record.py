"""A practical grows by steps in their order, refuses what does not fit, and is then frozen."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from typing import Any

import pytest

from academy.domain.curriculum.tasks import PracticalTask
from academy.domain.practical.completeness import protects
from academy.domain.practical.record import Practical, close, record, stop
from academy.domain.practical.refusals import (
    CopiedWithoutSheet,
    CriterionNotJudged,
    ExpectationMissing,
    FoilIsOff,
    FoilNotRead,
    NoReasonToStop,
    NothingSaid,
    NotOnTheTask,
    PhotographMissing,
    PracticalIsClosed,
    ProtectionIsNotLeftOut,
    ReasonMissing,
    SetUpIncomplete,
    StageIsOver,
    StageNotAsked,
    StageNotReached,
    StepOfAnotherStage,
    TooFewReadings,
    WrongSpots,
)
from academy.domain.practical.stages import Help, Stage, StopReason, stages_of
from academy.domain.practical.steps import (
    FirstLook,
    Inspection,
    Judgement,
    Plan,
    Readings,
    StepBody,
    Stopped,
    Talk,
)
from tests.support.clock import NOW, later
from tests.support.course import a_measuring_task, a_task, a_task_by_eye
from tests.support.panel_work import (
    FOIL,
    a_finished_practical,
    a_practical,
    a_set_up,
    a_step,
    a_working_step,
    all_met,
    bodies,
    good_bodies,
    readings,
)

TASK = a_task()
GOOD = good_bodies(TASK)
ASKED = stages_of(TASK)
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
@pytest.mark.parametrize("place", range(13))
def test_the_next_stage_is_the_first_with_nothing_recorded(task: PracticalTask, place: int) -> None:
    stages = stages_of(task)
    stage = stages[min(place, len(stages) - 1)]
    assert up_to(stage, task).next_stage is stage


@pytest.mark.parametrize(
    ("recorded", "tried"),
    [
        (recorded, tried)
        for recorded in ASKED
        for tried in ASKED
        if ASKED.index(tried) > ASKED.index(recorded)
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


@pytest.mark.parametrize("stage", ASKED[: ASKED.index(Stage.TEST_SPOT)])
def test_what_was_found_and_read_before_the_work_is_fixed_once_paint_has_been_worked(
    stage: Stage,
) -> None:
    before_work = up_to(Stage.WORKING)
    record(before_work, a_step(stage, GOOD[stage]))
    with pytest.raises(StageIsOver):
        record(up_to(Stage.INSPECTION), a_step(stage, GOOD[stage]))


def test_nobody_works_on_after_the_readings_after_the_work() -> None:
    worked_on = record(up_to(Stage.AFTER), a_step(Stage.WORKING, a_working_step()))
    assert len(worked_on.working_steps) == 2
    assert worked_on.next_stage is Stage.TRAINEE_MARKS
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
    assert practical.version == len(ASKED) + 1


@pytest.mark.parametrize("present", [(), ("goggles on",), ("cord over the shoulder",)])
def test_work_does_not_start_while_a_set_up_check_is_missing(present: tuple[str, ...]) -> None:
    with pytest.raises(SetUpIncomplete) as refusal:
        record(up_to(Stage.SET_UP), a_step(Stage.SET_UP, a_set_up(TASK, present=present)))
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
        (Stage.SET_UP, a_set_up(TASK, present=(*TASK.set_up_checks, "Mira was late"))),
        (Stage.SET_UP, a_set_up(TASK, not_applying={"Mira was late": "bus"})),
        (Stage.CRITERIA, Judgement({**all_met(TASK).met, "Mira was late": True})),
    ],
    ids=["check", "check that does not apply", "criterion"],
)
def test_only_the_tasks_own_checks_and_criteria_are_recorded(stage: Stage, body: StepBody) -> None:
    """They enter the signed bytes as they stand, so nobody's words may."""
    with pytest.raises(NotOnTheTask, match="Mira was late"):
        record(up_to(stage), a_step(stage, body))


@pytest.mark.parametrize(
    ("stage", "other"),
    [
        (stage, other)
        for stage in ASKED
        for other in Stage
        if type(GOOD[other]) is not type(GOOD[stage])
    ],
)
def test_a_stage_records_only_its_own_kind_of_step(stage: Stage, other: Stage) -> None:
    with pytest.raises(StepOfAnotherStage):
        record(up_to(stage), a_step(stage, GOOD[other]))


@pytest.mark.parametrize("stage", ASKED)
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
    grown = record(opened, a_step(ASKED[0], GOOD[ASKED[0]]))
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


def test_a_check_may_not_apply_for_a_reason() -> None:
    there, other = TASK.set_up_checks
    set_up = a_set_up(TASK, present=(there,), not_applying={other: "a battery machine"})
    assert record(up_to(Stage.SET_UP), a_step(Stage.SET_UP, set_up)).next_stage is Stage.PLAN
    with pytest.raises(ReasonMissing, match=other):
        record(
            up_to(Stage.SET_UP),
            a_step(Stage.SET_UP, a_set_up(TASK, present=(there,), not_applying={other: "  "})),
        )


def test_protective_equipment_is_never_declared_not_to_apply() -> None:
    goggles, other = TASK.set_up_checks
    assert protects(goggles)
    assert not protects(other)
    set_up = a_set_up(TASK, present=(other,), not_applying={goggles: "in the way"})
    with pytest.raises(ProtectionIsNotLeftOut, match=goggles):
        record(up_to(Stage.SET_UP), a_step(Stage.SET_UP, set_up))


@pytest.mark.parametrize(
    ("overrides", "refusal"),
    [
        ({"foil": None}, FoilNotRead),
        ({"foil": replace(FOIL, reading_um=Decimal("122.4"))}, FoilIsOff),
        ({"taped_edge": ()}, PhotographMissing),
    ],
)
def test_the_foil_and_the_taped_edge_are_proved(
    overrides: dict[str, Any], refusal: type[Exception]
) -> None:
    with pytest.raises(refusal):
        record(up_to(Stage.SET_UP), a_step(Stage.SET_UP, a_set_up(TASK, **overrides)))


def test_a_foil_read_exactly_at_its_tolerance_holds() -> None:
    at_the_limit = replace(FOIL, reading_um=FOIL.certified_um + FOIL.allowed_um)
    record(up_to(Stage.SET_UP), a_step(Stage.SET_UP, a_set_up(TASK, foil=at_the_limit)))


def test_a_part_judged_by_eye_proves_no_foil() -> None:
    task = a_task_by_eye()
    record(up_to(Stage.SET_UP, task), a_step(Stage.SET_UP, a_set_up(task, foil=None)))


def test_the_first_look_has_a_photograph() -> None:
    with pytest.raises(PhotographMissing, match="under the named light"):
        record(a_practical(), a_step(Stage.FIRST_LOOK, FirstLook("point light", "swirls", ())))


@pytest.mark.parametrize(
    "plan", [Plan("", Decimal(1), Decimal(1)), Plan("one set"), Plan("one set", Decimal(1))]
)
def test_the_plan_comes_with_the_expected_removal(plan: Plan) -> None:
    with pytest.raises(ExpectationMissing):
        record(up_to(Stage.PLAN), a_step(Stage.PLAN, plan))


def test_a_plan_judged_by_eye_expects_no_figure() -> None:
    task = a_task_by_eye()
    record(up_to(Stage.PLAN, task), a_step(Stage.PLAN, Plan("two sets at most")))


def test_copied_readings_come_with_their_sheet() -> None:
    copied = replace(readings(["110.0"] * 2), copied=True)
    with pytest.raises(CopiedWithoutSheet):
        record(up_to(Stage.BEFORE), a_step(Stage.BEFORE, copied))
    record(up_to(Stage.BEFORE), a_step(Stage.BEFORE, replace(copied, sheet=("digest",))))


def test_readings_between_steps_are_taken_as_often_as_they_help() -> None:
    practical = up_to(Stage.TRAINEE_MARKS)
    assert practical.steps_since_readings == 1
    for _ in range(2):
        practical = record(practical, a_step(Stage.BETWEEN, GOOD[Stage.BETWEEN]))
        assert practical.newest_readings == GOOD[Stage.BETWEEN]
        assert practical.steps_since_readings == 0
    assert practical.next_stage is Stage.TRAINEE_MARKS
    with pytest.raises(StageNotReached):
        record(up_to(Stage.WORKING), a_step(Stage.BETWEEN, GOOD[Stage.BETWEEN]))
    with pytest.raises(StageIsOver):
        record(up_to(Stage.CRITERIA), a_step(Stage.BETWEEN, GOOD[Stage.BETWEEN]))


@pytest.mark.parametrize("stage", ASKED)
def test_work_is_stopped_at_any_stage(stage: Stage) -> None:
    stopped = stop(up_to(stage), a_step(Stage.STOPPED, GOOD[Stage.STOPPED], later(minutes=9)))
    assert stopped.closed_at == later(minutes=9)
    assert stopped.stopped == GOOD[Stage.STOPPED]
    with pytest.raises(PracticalIsClosed):
        stop(stopped, a_step(Stage.STOPPED, GOOD[Stage.STOPPED]))
    with pytest.raises(PracticalIsClosed):
        close(stopped, NOW)


def test_stopping_says_why_and_nothing_else_stops() -> None:
    with pytest.raises(NoReasonToStop):
        stop(a_practical(), a_step(Stage.STOPPED, Stopped(StopReason.HEAT, " ")))
    with pytest.raises(StepOfAnotherStage):
        stop(a_practical(), a_step(Stage.TALK, GOOD[Stage.TALK]))
    with pytest.raises(StageNotAsked):
        record(a_finished_practical(), a_step(Stage.STOPPED, GOOD[Stage.STOPPED]))


def test_a_practical_goes_on_in_the_order_it_began_with() -> None:
    began = (Stage.BEFORE, Stage.SET_UP, Stage.WORKING, Stage.INSPECTION, Stage.AFTER)
    practical = a_practical(order=began)
    for stage in began:
        assert practical.next_stage is stage
        practical = record(practical, a_step(stage, GOOD[stage]))
    assert practical.next_stage is None
