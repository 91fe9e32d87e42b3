"""Reference panels: keeping them, and judging them blind."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Annotated
from uuid import UUID, uuid4

from flask import abort, flash, redirect, request, url_for
from flask.typing import ResponseReturnValue
from pydantic import Field, StringConstraints
from werkzeug.datastructures import MultiDict

from academy.domain.curriculum.tasks import PracticalTask
from academy.domain.people import Permission, Role
from academy.domain.practical.reference_panels import Compared
from academy.domain.practical.second_judgement import Pair, beyond_chance
from academy.domain.sentences import TradeError
from academy.services import references as service
from academy.store.queries.people import members
from academy.store.queries.references import ReferenceRow
from academy.store.queries.workshop import sections
from academy.web.context import clock, course, db, unit_of_work
from academy.web.formats import sentence_text
from academy.web.forms import Form, FormRefused, kept_id, refused
from academy.web.identity import requires, signed_in
from academy.web.language import gettext as _
from academy.web.pages import render
from academy.web.parts import Choosable, Filled, Listed
from academy.web.practicals.blueprint import bp
from academy.web.practicals.forms import Words
from academy.web.practicals.reference_pages import (
    Difference,
    NewReferencePage,
    ReferencePage,
    ReferencesPage,
    SeenCriterion,
)


class ReferenceForm(Form):
    """A section kept to judge by, and who agreed on it."""

    reference_id: UUID
    task_id: Annotated[str, StringConstraints(max_length=100)]
    section_id: UUID
    label: Words
    agreed_by: Annotated[list[UUID], Field(default_factory=list)]


@bp.get("/references")
@requires(Permission.KEEP_REFERENCES)
def references() -> ResponseReturnValue:
    """Show the reference panels, and where each supervisor stands with them."""
    actor = signed_in()
    own = service.own_references(db(), actor.shop_id, actor.person_id)
    judges = actor.may(Permission.JUDGE_REFERENCES)
    return render(
        ReferencesPage(
            own=sentence_text(own.standing) if judges else "",
            panels=tuple(_line(row, own, judges) for row in own.active),
            differences=tuple(_difference(one) for one in own.compared) if own.complete else (),
            measure=_measure(own.compared) if own.complete else "",
            supervisors=tuple(
                f"{m.name}: {_standing(m.person_id)}"
                for m in members(db(), actor.shop_id)
                if Role.SUPERVISOR in m.roles
            ),
            tasks=tuple(Choosable(task.id, task.title) for task in course().tasks),
        )
    )


@bp.get("/references/new")
@requires(Permission.KEEP_REFERENCES)
def new_reference() -> ResponseReturnValue:
    """Show what is asked to keep a reference panel for one task."""
    return render(_new_page(_task(request.args.get("task", "")), Filled()))


@bp.post("/references")
@requires(Permission.KEEP_REFERENCES)
def keep_reference() -> ResponseReturnValue:
    """Keep a reference panel."""
    task = _task(request.form.get("task_id", ""))
    try:
        form = ReferenceForm.of(request.form)
        new = service.NewReference(
            form.reference_id,
            form.section_id,
            form.label,
            _judged(request.form),
            form.agreed_by,
        )
        with unit_of_work() as session:
            service.add_reference(session, actor=signed_in(), new=new, task=task, now=clock())
    except FormRefused as fault:
        return render(_new_page(task, fault.filled), 422)
    except TradeError as refusal:
        return render(_new_page(task, refused(request.form, refusal)), 422)
    flash(_("The reference panel is kept. New supervisors judge it before they assess."))
    return redirect(url_for("practicals.references"), code=303)


@bp.get("/references/<uuid:reference_id>")
@requires(Permission.KEEP_REFERENCES)
def reference(reference_id: UUID) -> ResponseReturnValue:
    """Show one reference panel to judge."""
    return render(_page(reference_id, Filled()))


@bp.post("/references/<uuid:reference_id>")
@requires(Permission.JUDGE_REFERENCES)
def judge_reference(reference_id: UUID) -> ResponseReturnValue:
    """Judge one reference panel."""
    judgement_id = kept_id(request.form, "judgement_id")
    try:
        with unit_of_work() as session:
            service.judge_reference(
                session,
                actor=signed_in(),
                judgement_id=judgement_id,
                reference_id=reference_id,
                met=_judged(request.form),
                now=clock(),
            )
    except TradeError as refusal:
        return render(_page(reference_id, refused(request.form, refusal)), 422)
    flash(_("Your judgement is kept. What was agreed is shown after the last panel."))
    return redirect(url_for("practicals.references"), code=303)


@bp.post("/references/<uuid:reference_id>/retire")
@requires(Permission.KEEP_REFERENCES)
def retire_reference(reference_id: UUID) -> ResponseReturnValue:
    """Take a reference panel out of use."""
    with unit_of_work() as session:
        service.retire_reference(session, actor=signed_in(), reference_id=reference_id, now=clock())
    flash(_("The reference panel is out of use; what was judged on it stays."))
    return redirect(url_for("practicals.references"), code=303)


def _judged(sent: MultiDict[str, str]) -> Mapping[str, bool]:
    start = "criterion-"
    return {
        name.removeprefix(start): answer == "met"
        for name, answer in sent.items()
        if name.startswith(start) and answer in {"met", "not-met"}
    }


def _task(task_id: str) -> PracticalTask:
    found = course().task(task_id)
    if found is None:
        abort(404)
    return found


def _line(row: ReferenceRow, own: service.OwnReferences, judges: bool) -> Listed:
    url = url_for("practicals.reference", reference_id=row.id)
    title = f"{row.label}, {row.section_name}"
    if not judges:
        return Listed(title, url)
    if row.id in own.judged:
        return Listed(title, url, _("you have judged it"), "saved")
    return Listed(title, url, _("waits for your judgement"), "waiting")


def _standing(person_id: UUID) -> str:
    own = service.own_references(db(), signed_in().shop_id, person_id)
    return sentence_text(own.standing)


def _difference(one: Compared) -> Difference:
    """Return one criterion with what was agreed and what was said."""
    words = {True: _("met"), False: _("not met")}
    says = _("agreed: %(agreed)s; you: %(said)s", agreed=words[one.agreed], said=words[one.said])
    return Difference(
        f"{one.reference}: {one.criterion}", "right" if one.same else "other", says, one.critical
    )


def _measure(found: tuple[Compared, ...]) -> str:
    """Return the agreement beyond chance, for whoever opens it; empty where there is none."""
    kappa = beyond_chance([Pair(one.agreed, one.said) for one in found]) if found else None
    if kappa is None:
        return ""
    return _(
        "Cohen's kappa %(kappa).2f over %(n)d criteria: 0 is what chance alone would give, 1 is"
        " full agreement. With few criteria or nearly everything met it says little.",
        kappa=kappa,
        n=len(found),
    )


def _new_page(task: PracticalTask, form: Filled) -> NewReferencePage:
    shop_id = signed_in().shop_id
    return NewReferencePage(
        form=form,
        reference_id=kept_id(request.form, "reference_id") if request.form else uuid4(),
        task_id=task.id,
        title=task.title,
        sections=tuple(Choosable(str(s.id), s.name) for s in sections(db(), shop_id)),
        supervisors=tuple(
            Choosable(str(m.person_id), m.name)
            for m in members(db(), shop_id)
            if Role.SUPERVISOR in m.roles
        ),
        criteria=tuple(
            SeenCriterion(c.id, c.text, c.critical) for c in task.criteria if not c.measured
        ),
    )


def _page(reference_id: UUID, form: Filled) -> ReferencePage:
    actor = signed_in()
    own = service.own_references(db(), actor.shop_id, actor.person_id)
    row = next((one for one in own.active if one.id == reference_id), None)
    if row is None:
        abort(404)
    asked = actor.may(Permission.JUDGE_REFERENCES)
    return ReferencePage(
        form=form,
        judgement_id=kept_id(request.form, "judgement_id") if request.form else uuid4(),
        title=row.label,
        section_name=row.section_name,
        criteria=tuple(SeenCriterion(name, *row.criteria[name]) for name in row.agreed)
        if asked
        else (),
        says=_(
            "Judge the panel itself, under the named light, alone. What was agreed is not shown."
        )
        if asked
        else _("Supervisors judge it; what was agreed is shown to each after the last panel."),
        may_retire=actor.may(Permission.KEEP_REFERENCES),
        reference_id=reference_id,
    )
