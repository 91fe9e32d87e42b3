"""Amending a closed record, and changing the plan that follows one not yet competent."""

from __future__ import annotations

from uuid import UUID, uuid4

from flask import abort, flash, redirect, request, url_for
from flask.typing import ResponseReturnValue

from academy.domain.people import Permission, Role
from academy.domain.practical.steps import Talk
from academy.domain.sentences import TradeError
from academy.services import amending, reteaching
from academy.store.queries.people import members
from academy.store.queries.practicals import StoredPractical
from academy.store.queries.reteaching import PlanRow, plans
from academy.web.context import clock, db, unit_of_work
from academy.web.forms import FormRefused, kept_id, refused
from academy.web.identity import requires, signed_in
from academy.web.language import gettext as _
from academy.web.pages import render
from academy.web.parts import Choosable, Filled
from academy.web.practicals.after_closing import plan_facts
from academy.web.practicals.blueprint import bp
from academy.web.practicals.desk_forms import AmendForm, PlanAgainForm
from academy.web.practicals.desk_pages import AmendPage, PlanAgainPage
from academy.web.practicals.drills import drill_choices
from academy.web.practicals.one import practical_for
from academy.web.practicals.stage_bodies import judgement_of


@bp.get("/<uuid:practical_id>/amendment")
@requires(Permission.AMEND_PRACTICAL)
def amend(practical_id: UUID) -> ResponseReturnValue:
    """Show the form to amend a record, filled with what it says now."""
    stored = _amendable(practical_id)
    return render(_amend_page(stored, _as_it_reads(stored)))


@bp.post("/<uuid:practical_id>/amendment")
@requires(Permission.AMEND_PRACTICAL)
def keep_amendment(practical_id: UUID) -> ResponseReturnValue:
    """Supersede a record by an amended one."""
    stored = _amendable(practical_id)
    try:
        form = AmendForm.of(request.form)
        new = amending.NewAmendment(
            form.amendment_id,
            form.digest,
            judgement_of(stored.practical.task, request.form),
            Talk(form.went_well, form.change_next, form.next_drill),
            form.reason,
        )
        with unit_of_work() as session:
            amending.amend_practical(
                session, actor=signed_in(), practical_id=practical_id, new=new, now=clock()
            )
    except FormRefused as fault:
        return render(_amend_page(stored, fault.filled), 422)
    except TradeError as refusal:
        return render(_amend_page(stored, refused(request.form, refusal)), 422)
    flash(_("Amended. Both sign it at the desk; until you have, the record before it stands."))
    return redirect(url_for("practicals.practical", practical_id=practical_id), code=303)


@bp.get("/<uuid:practical_id>/plan")
@requires(Permission.READ_PRACTICAL)
def plan_again(practical_id: UUID) -> ResponseReturnValue:
    """Show what is taught again; a supervisor may change it."""
    stored = practical_for(signed_in(), practical_id)
    return render(_plan_page(stored, _plan(practical_id), None))


@bp.post("/<uuid:practical_id>/plan")
@requires(Permission.ASSESS_PRACTICAL)
def change_plan(practical_id: UUID) -> ResponseReturnValue:
    """Change what is taught again."""
    stored, plan = practical_for(signed_in(), practical_id), _plan(practical_id)
    try:
        form = PlanAgainForm.of(request.form)
        change = reteaching.PlanChange(
            form.objective, form.drill_id, form.responsible_id, form.due_on
        )
        with unit_of_work() as session:
            reteaching.change_plan(
                session, actor=signed_in(), practical_id=practical_id, change=change, now=clock()
            )
    except FormRefused as fault:
        return render(_plan_page(stored, plan, fault.filled), 422)
    except TradeError as refusal:
        return render(_plan_page(stored, plan, refused(request.form, refusal)), 422)
    flash(_("The plan holds from now on; the trainee sees it."))
    return redirect(url_for("practicals.practical", practical_id=practical_id), code=303)


def _amendable(practical_id: UUID) -> StoredPractical:
    """Return a closed practical that this person may amend; anything else is not there."""
    stored = practical_for(signed_in(), practical_id)
    if stored.record is None or not amending.amends(db(), signed_in(), stored):
        abort(404)
    return stored


def _as_it_reads(stored: StoredPractical) -> Filled:
    judgement, talk = stored.practical.judgement, stored.practical.talk
    typed = {
        f"criterion-{name}": "met" if met else "not-met"
        for name, met in (judgement.met if judgement else {}).items()
    }
    if talk is not None:
        typed |= {
            "went_well": talk.went_well,
            "change_next": talk.change_next,
            "next_drill": talk.next_drill,
        }
    return Filled(typed)


def _amend_page(stored: StoredPractical, form: Filled) -> AmendPage:
    task, record = stored.practical.task, stored.record
    return AmendPage(
        form=form,
        practical_id=stored.practical.id,
        amendment_id=kept_id(request.form, "amendment_id") if request.form else uuid4(),
        digest=request.form.get("digest", record.digest if record else ""),
        title=task.title,
        criteria=tuple(c for c in task.criteria if not c.measured),
        drills=drill_choices(task),
    )


def _plan(practical_id: UUID) -> PlanRow:
    found = next(iter(plans(db(), signed_in().shop_id, practical_id=practical_id)), None)
    if found is None:
        abort(404)
    return found


def _plan_page(stored: StoredPractical, plan: PlanRow, form: Filled | None) -> PlanAgainPage:
    may = signed_in().may(Permission.ASSESS_PRACTICAL) and plan.coached_at is None
    return PlanAgainPage(
        form=form or _plan_as_it_is(plan),
        practical_id=stored.practical.id,
        title=stored.practical.task.title,
        facts=plan_facts(plan),
        drills=drill_choices(stored.practical.task),
        supervisors=tuple(
            Choosable(str(m.person_id), m.name)
            for m in members(db(), signed_in().shop_id)
            if Role.SUPERVISOR in m.roles and m.person_id != plan.trainee_id
        )
        if may
        else (),
    )


def _plan_as_it_is(plan: PlanRow) -> Filled:
    return Filled(
        {
            "objective": plan.objective,
            "drill_id": plan.drill_id,
            "responsible_id": str(plan.responsible_id),
            "due_on": plan.due_on.isoformat(),
        }
    )
