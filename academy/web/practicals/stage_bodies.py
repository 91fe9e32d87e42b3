"""From a stage's form to what is recorded."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

from werkzeug.datastructures import MultiDict

from academy.domain.curriculum.tasks import PracticalTask
from academy.domain.metrology.verification import Tolerance, verify_gauge
from academy.domain.practical.completeness import needs_foil
from academy.domain.practical.stages import Stage
from academy.domain.practical.steps import (
    Cooled,
    FirstLook,
    FoilReading,
    Inspection,
    Judgement,
    Plan,
    SetUp,
    StepBody,
    Talk,
    TraineeMarks,
)
from academy.store.queries.gauges import foils
from academy.store.queries.practicals import StoredPractical
from academy.store.queries.shop_settings import policy
from academy.store.queries.workshop import gauge
from academy.web.context import db
from academy.web.identity import signed_in
from academy.web.practicals.gauge_today import gauge_seen
from academy.web.practicals.reading_pages import gauge_sd_um
from academy.web.practicals.readings import typed_readings
from academy.web.practicals.stage_input import (
    CooledForm,
    FirstLookForm,
    InspectionForm,
    PlanForm,
    SetUpForm,
    TalkForm,
    TraineeMarksForm,
)
from academy.web.practicals.work_forms import test_spot_of, working_step_of

DOES_NOT_APPLY, MISSING = "does-not-apply", "missing"


def body_of(stored: StoredPractical, stage: Stage, sent: MultiDict[str, str]) -> StepBody | None:
    """Return what a stage's form says, or None where readings need another look.

    Raises
    ------
    FormRefused
        A field of a plain form is missing or wrong.
    """
    task = stored.practical.task
    match stage:
        case Stage.BEFORE | Stage.BETWEEN | Stage.AFTER:
            readings = typed_readings(task, sent, gauge_sd_um(stored)).readings
            copied = bool(sent.get("copied"))
            return readings and replace(
                readings, copied=copied, sheet=stored.pictures_of(stage) if copied else ()
            )
        case Stage.GAUGE:
            return gauge_seen(stored)
        case Stage.TEST_SPOT:
            return test_spot_of(stored, sent)
        case Stage.WORKING:
            return working_step_of(stored, sent)
        case Stage.SET_UP:
            return _set_up(stored, sent)
        case Stage.CRITERIA:
            return judgement_of(task, sent)
        case _:
            return _plain_body(stored, stage, sent)


def _plain_body(stored: StoredPractical, stage: Stage, sent: MultiDict[str, str]) -> StepBody:
    match stage:
        case Stage.FIRST_LOOK:
            look = FirstLookForm.of(sent)
            return FirstLook(look.light, look.sees, stored.pictures_of(stage))
        case Stage.PLAN:
            plan = PlanForm.of(sent)
            return Plan(plan.plan, plan.expected_um, plan.give_or_take_um)
        case Stage.TRAINEE_MARKS:
            marks = TraineeMarksForm.of(sent)
            return TraineeMarks(marks.sees, marks.against)
        case Stage.INSPECTION:
            seen, first = InspectionForm.of(sent), stored.practical.trainee_marks
            return Inspection(first.sees if first else "", seen.supervisor_sees, seen.against)
        case Stage.COOLED:
            cooled = CooledForm.of(sent)
            return Cooled(cooled.waited_min, cooled.panel_c)
        case Stage.TALK:
            talk = TalkForm.of(sent)
            return Talk(talk.went_well, talk.change_next, talk.next_drill)
        case _:
            raise ValueError(stage)


def _set_up(stored: StoredPractical, sent: MultiDict[str, str]) -> SetUp:
    form, task = SetUpForm.of(sent), stored.practical.task
    answers = {
        check: sent.get(f"check-{number}", "") for number, check in enumerate(task.set_up_checks, 1)
    }
    return SetUp(
        present=tuple(
            check
            for check, answer in answers.items()
            if form.all_present and answer not in {DOES_NOT_APPLY, MISSING}
        ),
        not_applying={
            check: sent.get(f"reason-{number}", "").strip()[:300]
            for number, (check, answer) in enumerate(answers.items(), 1)
            if answer == DOES_NOT_APPLY
        },
        foil=_foil(stored, form) if needs_foil(task) else None,
        taped_edge=stored.pictures_of(Stage.SET_UP),
    )


def _foil(stored: StoredPractical, form: SetUpForm) -> FoilReading | None:
    """Return the reading on the foil beside what both tolerances allow, or None where it is missing."""
    shop_id = signed_in().shop_id
    read_with = gauge(db(), shop_id, stored.gauge_id) if stored.gauge_id else None
    known = next((foil for foil in foils(db(), shop_id) if foil.id == form.foil_id), None)
    certified = known.certified_um if known else form.certified_um
    if read_with is None or certified is None or form.foil_reading_um is None:
        return None
    verified = verify_gauge(
        certified,
        [form.foil_reading_um],
        read_with.tolerance,
        known.tolerance if known else Tolerance(),
        policy(db(), shop_id).combine,
    )
    allowed = Decimal(str(verified.limit_um)).quantize(Decimal("0.001"))
    return FoilReading(certified, form.foil_reading_um, allowed)


def judgement_of(task: PracticalTask, sent: MultiDict[str, str]) -> Judgement:
    answers = {
        criterion.id: sent.get(f"criterion-{criterion.id}", "")
        for criterion in task.criteria
        if not criterion.measured
    }
    return Judgement(
        {name: answer == "met" for name, answer in answers.items() if answer in {"met", "not-met"}}
    )
