"""Recording at the panel, stage by stage, and stopping for safety."""

from __future__ import annotations

from uuid import UUID, uuid4

from flask import abort, flash, redirect, request, url_for
from flask.typing import ResponseReturnValue

from academy.domain.people import Permission
from academy.domain.practical.stages import Stage
from academy.domain.practical.steps import StepBody, Stopped
from academy.domain.sentences import TradeError
from academy.files.photographs import NotAPhotograph
from academy.services import practical as service
from academy.services import stopping
from academy.store.queries.people import names
from academy.store.queries.practicals import StoredPractical
from academy.web.context import clock, db, unit_of_work
from academy.web.forms import FormRefused, kept_id, refused
from academy.web.identity import requires, signed_in
from academy.web.language import gettext as _
from academy.web.pages import render
from academy.web.parts import Filled
from academy.web.practicals.blueprint import bp
from academy.web.practicals.drills import drill_choices
from academy.web.practicals.one import practical_for
from academy.web.practicals.photograph_routes import keep_pictures
from academy.web.practicals.stage_bodies import body_of
from academy.web.practicals.stage_input import StepForm, StopForm
from academy.web.practicals.stage_pages import StopPage
from academy.web.practicals.stage_views import stage_page
from academy.web.practicals.words import stop_reasons


@bp.get("/<uuid:practical_id>/stages/<stage>")
@requires(Permission.ASSESS_PRACTICAL)
def stage(practical_id: UUID, stage: str) -> ResponseReturnValue:
    """Show the form of one stage."""
    stored = practical_for(signed_in(), practical_id)
    return render(stage_page(stored, _stage(stored, stage), None, Filled()))


@bp.post("/<uuid:practical_id>/stages/<stage>")
@requires(Permission.ASSESS_PRACTICAL)
def record_stage(practical_id: UUID, stage: str) -> ResponseReturnValue:
    """Record one stage; photographs sent with it are kept first, so that no refusal loses them."""
    here = _stage(practical_for(signed_in(), practical_id), stage)
    try:
        keep_pictures(practical_id, here)
        stored = practical_for(signed_in(), practical_id)
        if "understand" in request.form:  # a pasted column is only filled in, not saved
            return render(stage_page(stored, here, request.form, Filled()))
        envelope = StepForm.of(request.form)
        body = body_of(stored, here, request.form)
        if body is None:
            return render(stage_page(stored, here, request.form, Filled()), 422)
        _record(stored, here, body, envelope)
    except FormRefused as fault:
        return _refused(practical_id, here, fault.filled)
    except (TradeError, NotAPhotograph) as refusal:
        return _refused(practical_id, here, refused(request.form, refusal))
    return redirect(url_for("practicals.practical", practical_id=practical_id), code=303)


@bp.get("/<uuid:practical_id>/stop")
@requires(Permission.ASSESS_PRACTICAL)
def stop(practical_id: UUID) -> ResponseReturnValue:
    """Ask why work stops."""
    return render(_stop_page(_mine(practical_id), Filled()))


@bp.post("/<uuid:practical_id>/stop")
@requires(Permission.ASSESS_PRACTICAL)
def stop_practical(practical_id: UUID) -> ResponseReturnValue:
    """End the practical for safety."""
    stored = _mine(practical_id)
    try:
        form = StopForm.of(request.form)
        with unit_of_work() as session:
            stopping.stop_practical(
                session,
                actor=signed_in(),
                practical_id=practical_id,
                step_id=form.step_id,
                body=Stopped(form.reason, form.says),
                now=clock(),
            )
    except FormRefused as fault:
        return render(_stop_page(stored, fault.filled), 422)
    except TradeError as refusal:
        return render(_stop_page(stored, refused(request.form, refusal)), 422)
    flash(_("Stopped. It counts for nobody and against nobody. Put right what made you stop."))
    return redirect(url_for("practicals.practical", practical_id=practical_id), code=303)


def _refused(practical_id: UUID, here: Stage, filled: Filled) -> ResponseReturnValue:
    fresh = practical_for(signed_in(), practical_id)
    return render(stage_page(fresh, here, request.form, filled), 422)


def _record(stored: StoredPractical, stage: Stage, body: StepBody, envelope: StepForm) -> None:
    drills = tuple(choice.value for choice in drill_choices(stored.practical.task))
    with unit_of_work() as session:
        service.record_step(
            session,
            actor=signed_in(),
            practical_id=stored.practical.id,
            step_id=envelope.step_id,
            stage=stage,
            body=body,
            seen_version=envelope.version,
            now=clock(),
            drills=drills,
        )


def _mine(practical_id: UUID) -> StoredPractical:
    """Return a practical for the supervisor who stands at its panel."""
    stored = practical_for(signed_in(), practical_id)
    if signed_in().person_id != stored.practical.supervisor_id:
        abort(403)
    return stored


def _stage(stored: StoredPractical, word: str) -> Stage:
    """Return a stage of this practical's task, for the supervisor at its panel."""
    if signed_in().person_id != stored.practical.supervisor_id:
        abort(403)
    between = (Stage.BETWEEN,) if Stage.AFTER in stored.practical.stages else ()
    asked: tuple[Stage, ...] = (*stored.practical.stages, *between)
    found = next((one for one in asked if one.value == word), None)
    if found is None:
        abort(404)
    return found


def _stop_page(stored: StoredPractical, form: Filled) -> StopPage:
    trainee_id = stored.practical.trainee_id
    return StopPage(
        form=form,
        practical_id=stored.practical.id,
        step_id=kept_id(request.form, "step_id") if request.form else uuid4(),
        trainee=names(db(), [trainee_id]).get(trainee_id, "–"),
        reasons=stop_reasons(),
    )
