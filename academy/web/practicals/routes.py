"""Supervised panel work: choose, record stage by stage; signing_routes has what follows."""

from __future__ import annotations

from uuid import UUID, uuid4

from flask import Response, abort, flash, redirect, request, url_for
from flask.typing import ResponseReturnValue

from academy.domain.people import Permission, Role
from academy.domain.practical.stages import Stage
from academy.domain.practical.steps import StepBody
from academy.domain.sentences import TradeError
from academy.files.photographs import NotAPhotograph
from academy.services import practical as service
from academy.services.actor import Actor, NotFound
from academy.services.gauge_trust import why_not_read
from academy.store.queries import people as people_queries
from academy.store.queries import practicals as queries
from academy.store.queries import workshop as workshop_queries
from academy.store.queries.practicals import StoredPractical
from academy.web.context import academy, clock, course, db, unit_of_work
from academy.web.forms import FormRefused, error_text, kept_id, refused
from academy.web.identity import requires, signed_in
from academy.web.language import gettext as _
from academy.web.pages import Page, render
from academy.web.parts import Choosable, Filled
from academy.web.practicals import signing_routes
from academy.web.practicals.blueprint import bp
from academy.web.practicals.forms import OpenForm, PhotographForm, StepForm
from academy.web.practicals.one import practical_for, shown_practical
from academy.web.practicals.pages import OpenPage, OverviewPage
from academy.web.practicals.panel import practical_line
from academy.web.practicals.stage_forms import body_of, readings_page, stage_page
from academy.web.practicals.words import kinds

# Importing the other puts its addresses into the blueprint.
__all__ = ["bp", "signing_routes"]


@bp.get("/")
@requires(Permission.READ_PRACTICAL)
def overview() -> ResponseReturnValue:
    """Show the shop's practicals to who may see the board, one's own to a trainee."""
    actor = signed_in()
    everybody = actor.may(Permission.READ_BOARD)
    found = queries.practicals(db(), actor.shop_id, None if everybody else actor.person_id)
    return render(
        OverviewPage(
            title=_("Practicals") if everybody else _("Your logbook"),
            practicals=tuple(practical_line(summary) for summary in found),
            may_open=actor.may(Permission.ASSESS_PRACTICAL),
        )
    )


@bp.get("/new")
@requires(Permission.ASSESS_PRACTICAL)
def choose() -> ResponseReturnValue:
    """Show what is chosen before the first reading."""
    return render(_open_page(signed_in(), Filled(), uuid4()))


@bp.post("/")
@requires(Permission.ASSESS_PRACTICAL)
def open_practical() -> ResponseReturnValue:
    """Open the practical under the id the page was made with."""
    actor, practical_id = signed_in(), kept_id(request.form, "practical_id")
    try:
        form = OpenForm.of(request.form)
        task = course().task(form.task_id)
        if task is None:
            raise NotFound()
        new = service.NewPractical(
            form.practical_id, form.trainee_id, form.section_id, form.gauge_id, form.kind
        )
        with unit_of_work() as session:
            service.open_practical(session, actor=actor, new=new, task=task, now=clock())
    except FormRefused as fault:
        return render(_open_page(actor, fault.filled, practical_id), 422)
    except TradeError as refusal:
        return render(_open_page(actor, refused(request.form, refusal), practical_id), 422)
    return redirect(url_for("practicals.practical", practical_id=practical_id), code=303)


@bp.get("/<uuid:practical_id>")
@requires(Permission.READ_PRACTICAL)
def practical(practical_id: UUID) -> ResponseReturnValue:
    """Show a practical with everything recorded so far."""
    return render(shown_practical(practical_for(signed_in(), practical_id)))


@bp.get("/<uuid:practical_id>/stages/<stage>")
@requires(Permission.ASSESS_PRACTICAL)
def stage(practical_id: UUID, stage: str) -> ResponseReturnValue:
    """Show the form of one stage."""
    stored = practical_for(signed_in(), practical_id)
    return render(_stage_page(stored, _stage(stored, stage)))


@bp.post("/<uuid:practical_id>/stages/<stage>")
@requires(Permission.ASSESS_PRACTICAL)
def record_stage(practical_id: UUID, stage: str) -> ResponseReturnValue:
    """Record one stage."""
    stored = practical_for(signed_in(), practical_id)
    here = _stage(stored, stage)
    try:
        envelope = StepForm.of(request.form)
        body = body_of(stored.practical.task, here, request.form)
        if body is None:
            return render(readings_page(stored, here, request.form), 422)
        _record(practical_id, here, body, envelope)
    except FormRefused as fault:
        return render(_stage_page(stored, here, fault.filled), 422)
    except TradeError as refusal:
        fresh = practical_for(signed_in(), practical_id)
        return render(_refused_stage(fresh, here, refusal), 422)
    return redirect(url_for("practicals.practical", practical_id=practical_id), code=303)


@bp.post("/<uuid:practical_id>/photographs")
@requires(Permission.ASSESS_PRACTICAL)
def add_photograph(practical_id: UUID) -> ResponseReturnValue:
    """Keep a photograph, encoded anew, and put it into the practical."""
    practical_for(signed_in(), practical_id)
    form, file = PhotographForm.of(request.form), request.files.get("photograph")
    try:
        kept = academy().photographs.keep(file.read() if file else b"")
    except NotAPhotograph as fault:
        flash(str(fault))
        return redirect(url_for("practicals.practical", practical_id=practical_id), code=303)
    with unit_of_work() as session:
        service.add_photograph(
            session,
            actor=signed_in(),
            practical_id=practical_id,
            photograph_id=form.photograph_id,
            digest=kept.digest,
            caption=form.caption,
            now=clock(),
        )
    flash(_("The photograph is kept."))
    return redirect(url_for("practicals.practical", practical_id=practical_id), code=303)


@bp.get("/<uuid:practical_id>/photographs/<uuid:photograph_id>")
@requires(Permission.READ_PRACTICAL)
def photograph(practical_id: UUID, photograph_id: UUID) -> ResponseReturnValue:
    """Return a photograph of a practical one may see."""
    stored = practical_for(signed_in(), practical_id)
    found = next((p for p in stored.photographs if p.id == photograph_id), None)
    if found is None:
        abort(404)
    return Response(academy().photographs.read(found.digest), mimetype="image/jpeg")


def _record(practical_id: UUID, stage: Stage, body: StepBody, envelope: StepForm) -> None:
    with unit_of_work() as session:
        service.record_step(
            session,
            actor=signed_in(),
            practical_id=practical_id,
            step_id=envelope.step_id,
            stage=stage,
            body=body,
            seen_version=envelope.version,
            now=clock(),
        )


def _stage(stored: StoredPractical, word: str) -> Stage:
    """Return a stage of this practical's task, for the supervisor at its panel."""
    if signed_in().person_id != stored.practical.supervisor_id:
        abort(403)
    found = next((stage for stage in stored.practical.stages if stage.value == word), None)
    if found is None:
        abort(404)
    return found


def _stage_page(stored: StoredPractical, stage: Stage, form: Filled | None = None) -> Page:
    if stage in {Stage.BEFORE, Stage.AFTER}:
        refusal = why_not_read(db(), signed_in().shop_id, stored, clock())
        return readings_page(stored, stage, None, error_text(refusal) if refusal else "")
    return stage_page(stored, stage, course(), form or Filled())


def _refused_stage(stored: StoredPractical, stage: Stage, refusal: TradeError) -> Page:
    if stage in {Stage.BEFORE, Stage.AFTER}:
        return readings_page(stored, stage, request.form, error_text(refusal))
    return stage_page(stored, stage, course(), refused(request.form, refusal))


def _open_page(actor: Actor, form: Filled, practical_id: UUID) -> Page:
    members = people_queries.members(db(), actor.shop_id)
    return OpenPage(
        form=form,
        practical_id=practical_id,
        trainees=tuple(
            Choosable(str(m.person_id), m.name)
            for m in members
            if Role.TRAINEE in m.roles and m.person_id != actor.person_id
        ),
        tasks=tuple(Choosable(task.id, task.title) for task in course().tasks),
        sections=tuple(
            Choosable(str(s.id), s.name, _(s.substrate))
            for s in workshop_queries.sections(db(), actor.shop_id)
        ),
        gauges=tuple(
            Choosable(str(g.id), g.label) for g in workshop_queries.gauges(db(), actor.shop_id)
        ),
        kinds=kinds(),
    )
