"""The page of each stage, empty or as typed."""

from __future__ import annotations

from collections.abc import Mapping
from uuid import uuid4

from flask import url_for
from werkzeug.datastructures import MultiDict

from academy.domain.practical.completeness import needs_foil, needs_taped_edge, protects
from academy.domain.practical.record import Practical
from academy.domain.practical.stages import Stage
from academy.services.change_follow_up import to_look_for
from academy.store.queries.gauges import foils
from academy.store.queries.people import names
from academy.store.queries.practicals import StoredPractical, open_at_panel
from academy.web.context import course, db
from academy.web.forms import kept_id
from academy.web.identity import signed_in
from academy.web.language import gettext as _
from academy.web.pages import Page
from academy.web.parts import Choosable, Fact, Filled
from academy.web.practicals.drills import drill_choices
from academy.web.practicals.gauge_today import gauge_page
from academy.web.practicals.reading_pages import readings_page
from academy.web.practicals.stage_pages import (
    AtThePanel,
    CheckRow,
    CooledPage,
    FirstLookPage,
    InspectionPage,
    MaskPage,
    Offline,
    OpenHere,
    PlanPage,
    StagePage,
    TraineeMarksPage,
)
from academy.web.practicals.words import against_reference, against_word, stage_word
from academy.web.practicals.work_forms import work_page

NOTHING: Mapping[str, str] = {}


def stage_page(
    stored: StoredPractical, stage: Stage, sent: MultiDict[str, str] | None, form: Filled
) -> Page:
    """Return the page of a stage; ``sent`` is what was typed, ``form`` says what is wrong with it."""
    panel = at_the_panel(stored, stage, sent)
    match stage:
        case Stage.BEFORE | Stage.BETWEEN | Stage.AFTER:
            return readings_page(stored, panel, sent, form)
        case Stage.FIRST_LOOK:
            return FirstLookPage(panel, form, len(stored.pictures_of(stage)))
        case Stage.GAUGE:
            return gauge_page(stored, panel, form)
        case Stage.SET_UP:
            return _set_up_page(stored, panel, form)
        case Stage.PLAN:
            return _plan_page(stored, panel, form)
        case Stage.TEST_SPOT | Stage.WORKING:
            return work_page(stored, panel, form)
        case Stage.TRAINEE_MARKS:
            return TraineeMarksPage(panel, form, against_reference())
        case Stage.INSPECTION:
            return InspectionPage(panel, form, _trainee_said(stored), against_reference())
        case Stage.COOLED:
            return CooledPage(panel, form)
        case _:
            return _plain_page(stored, panel, form)


def at_the_panel(
    stored: StoredPractical, stage: Stage, sent: MultiDict[str, str] | None
) -> AtThePanel:
    """Return what stands on the page of every stage."""
    practical, hazardous = stored.practical, stage in {Stage.SET_UP, Stage.TEST_SPOT, Stage.WORKING}
    cautions = [course().caution(name) for name in practical.task.cautions] if hazardous else []
    return AtThePanel(
        practical_id=practical.id,
        stage=stage,
        trainee=names(db(), [practical.trainee_id]).get(practical.trainee_id, "–"),
        task=practical.task.title,
        place=stored.section_name,
        open_here=open_here(practical),
        step_id=kept_id(sent, "step_id") if sent else uuid4(),
        version=practical.version,
        offline=offline(practical, stage),
        cautions=tuple(caution for caution in cautions if caution is not None),
    )


def open_here(shown: Practical) -> tuple[OpenHere, ...]:
    """Return this supervisor's open practicals, to switch between with one tap."""
    actor = signed_in()
    if actor.person_id != shown.supervisor_id:
        return ()
    return tuple(
        OpenHere(
            trainee,
            _waits_for(practical),
            _next_url(practical),
            practical.id == shown.id,
        )
        for trainee, practical in open_at_panel(db(), actor.shop_id, actor.person_id)
    )


def offline(practical: Practical, stage: Stage | None = None) -> Offline:
    """Return what the phone keeps for when the network drops: the pages from here on."""
    stages = practical.stages
    here = stages.index(stage) if stage in stages else -1
    ahead = [one for one in stages if one not in practical.done]
    later = [one for one in ahead if stages.index(one) > here]
    return Offline(
        practical.id,
        signed_in().person_id,
        _stage_url(practical, later[0]) if later else "",
        tuple(_stage_url(practical, one) for one in ahead),
    )


def _stage_url(practical: Practical, stage: Stage) -> str:
    return url_for("practicals.stage", practical_id=practical.id, stage=stage.value)


def _waits_for(practical: Practical) -> str:
    stage = practical.next_stage
    return stage_word(stage) if stage else _("to be closed")


def _next_url(practical: Practical) -> str:
    stage = practical.next_stage
    if stage is None:
        return url_for("practicals.practical", practical_id=practical.id)
    return _stage_url(practical, stage)


def _set_up_page(stored: StoredPractical, panel: AtThePanel, form: Filled) -> MaskPage:
    task, shop_id = stored.practical.task, signed_in().shop_id
    checks = tuple(
        CheckRow(
            number,
            check,
            str(form.typed.get(f"check-{number}", "")),
            str(form.typed.get(f"reason-{number}", "")),
            protects(check),
        )
        for number, check in enumerate(task.set_up_checks, 1)
    )
    return MaskPage(
        panel=panel,
        form=form,
        checks=checks,
        excepted=any(check.answer for check in checks),
        asks_foil=needs_foil(task),
        foils=tuple(
            Choosable(
                str(foil.id), _("%(label)s, %(um)s µm", label=foil.label, um=foil.certified_um)
            )
            for foil in foils(db(), shop_id)
        ),
        asks_edge=needs_taped_edge(task),
        photographs=len(stored.pictures_of(Stage.SET_UP)),
    )


def _plan_page(stored: StoredPractical, panel: AtThePanel, form: Filled) -> PlanPage:
    limit_um = stored.practical.task.limit_um
    says = (
        _("The limit of the task is %(limit)g µm at any spot.", limit=limit_um)
        if limit_um is not None
        else ""
    )
    return PlanPage(panel, form, limit_um is not None, says)


def _trainee_said(stored: StoredPractical) -> tuple[Fact, ...]:
    said = stored.practical.trainee_marks
    if said is None:
        return ()
    return (
        Fact(_("The trainee said"), said.sees),
        Fact(_("Beside the reference panel"), against_word(said.against)),
    )


def _plain_page(stored: StoredPractical, panel: AtThePanel, form: Filled) -> StagePage:
    judged = tuple(c for c in stored.practical.task.criteria if not c.measured)
    return StagePage(
        panel=panel,
        title=stage_word(panel.stage),
        form=form,
        criteria=judged if panel.stage is Stage.CRITERIA else (),
        drills=drill_choices(stored.practical.task) if panel.stage is Stage.TALK else (),
        to_change=tuple(
            state.asked.change
            for state in to_look_for(db(), signed_in().shop_id, stored.practical.id)
            if state.still_open
        ),
    )
