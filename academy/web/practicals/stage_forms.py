"""From a stage's form to its body, and back to the form when something is wrong."""

from __future__ import annotations

from uuid import uuid4

from werkzeug.datastructures import MultiDict

from academy.domain.curriculum.course import Course
from academy.domain.curriculum.tasks import PracticalTask
from academy.domain.practical.stages import Stage
from academy.domain.practical.steps import (
    Inspection,
    Judgement,
    SetUp,
    StepBody,
    Talk,
    WorkingStep,
)
from academy.store.queries.practicals import StoredPractical
from academy.web.forms import kept_id
from academy.web.language import gettext as _
from academy.web.parts import Choosable, Filled
from academy.web.practicals.forms import InspectionForm, SetUpForm, TalkForm, WorkingForm
from academy.web.practicals.pages import ReadingsPage, StagePage
from academy.web.practicals.readings import empty_readings, typed_readings
from academy.web.practicals.words import helps, pressures, stage_word


def body_of(task: PracticalTask, stage: Stage, sent: MultiDict[str, str]) -> StepBody | None:
    """Return what a stage's form says, or None where readings need another look.

    Raises
    ------
    FormRefused
        A field of a plain form is missing or wrong.
    """
    match stage:
        case Stage.BEFORE | Stage.AFTER:
            return typed_readings(task, sent).readings
        case Stage.SET_UP:
            return SetUp(tuple(SetUpForm.of(sent).present))
        case Stage.WORKING:
            return _working(WorkingForm.of(sent))
        case Stage.INSPECTION:
            inspection = InspectionForm.of(sent)
            return Inspection(inspection.trainee_sees, inspection.supervisor_sees)
        case Stage.CRITERIA:
            return _judgement(task, sent)
        case Stage.TALK:
            talk = TalkForm.of(sent)
            return Talk(talk.went_well, talk.change_next)


def readings_page(
    stored: StoredPractical,
    stage: Stage,
    sent: MultiDict[str, str] | None,
    fault: str = "",
) -> ReadingsPage:
    """Return the readings form, empty or as typed."""
    task = stored.practical.task
    typed = typed_readings(task, sent) if sent else empty_readings(task)
    return ReadingsPage(
        practical_id=stored.practical.id,
        title=stage_word(stage),
        spots=tuple(typed.of_spot(spot) for spot in range(1, task.spots + 1)),
        faults=typed.faults,
        fault=fault,
        step_id=kept_id(sent, "step_id") if sent else uuid4(),
        version=stored.practical.version,
        says=_(
            "Read each of the %(spots)d marked spots %(readings)d times or more, lifting the"
            " probe each time. One reading is the whole film down to the metal.",
            spots=task.spots,
            readings=task.readings_per_spot,
        ),
    )


def stage_page(stored: StoredPractical, stage: Stage, course: Course, form: Filled) -> StagePage:
    """Return the form of a stage that is not readings."""
    task = stored.practical.task
    working = stage in {Stage.SET_UP, Stage.WORKING}
    cautions = [course.caution(caution_id) for caution_id in task.cautions] if working else []
    return StagePage(
        practical_id=stored.practical.id,
        title=stage_word(stage),
        stage=stage,
        form=form if form.typed or stage is not Stage.WORKING else _same_again(stored),
        step_id=uuid4(),
        version=stored.practical.version,
        cautions=tuple(caution for caution in cautions if caution is not None),
        checks=tuple(Choosable(check, check) for check in task.set_up_checks),
        criteria=tuple(c for c in task.criteria if not c.measured),
        pressures=pressures(),
        helps=helps(),
    )


def _working(form: WorkingForm) -> WorkingStep:
    return WorkingStep(
        form.machine,
        form.pad,
        form.abrasive,
        form.dial,
        form.passes,
        form.minutes * 60 + form.seconds,
        form.pressure,
        form.help_given,
    )


def _judgement(task: PracticalTask, sent: MultiDict[str, str]) -> Judgement:
    answers = {
        criterion.id: sent.get(f"criterion-{criterion.id}", "")
        for criterion in task.criteria
        if not criterion.measured
    }
    return Judgement(
        {name: answer == "met" for name, answer in answers.items() if answer in {"met", "not-met"}}
    )


def _same_again(stored: StoredPractical) -> Filled:
    """Return the last working step filled in, to change one thing."""
    steps = stored.practical.working_steps
    if not steps:
        return Filled()
    last = steps[-1]
    return Filled(
        {
            "machine": last.machine,
            "pad": last.pad,
            "abrasive": last.abrasive,
            "dial": last.dial,
            "passes": str(last.passes),
            "pressure": last.pressure.value,
        }
    )
