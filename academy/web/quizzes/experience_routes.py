"""Recording prior experience, on which lessons may be skipped and nothing else."""

from __future__ import annotations

from uuid import uuid4

from flask import flash, redirect, request, url_for
from flask.typing import ResponseReturnValue

from academy.domain.people import Permission
from academy.domain.sentences import TradeError
from academy.services.experience import record_experience
from academy.store.queries.experiences import experiences
from academy.store.queries.people import members
from academy.web.context import clock, course, db, unit_of_work
from academy.web.forms import FormRefused, kept_id, refused
from academy.web.identity import requires, signed_in
from academy.web.language import day_text
from academy.web.language import gettext as _
from academy.web.pages import render
from academy.web.parts import Choosable, Filled
from academy.web.quizzes.blueprint import bp
from academy.web.quizzes.dispute_pages import ExperiencePage, RecordedExperience
from academy.web.quizzes.forms import ExperienceForm
from academy.web.times import shop_day


@bp.get("/experience")
@requires(Permission.ASSESS_PRACTICAL)
def experience() -> ResponseReturnValue:
    """Show what was recorded, and the form to record more."""
    return render(_page(Filled()))


@bp.post("/experience")
@requires(Permission.ASSESS_PRACTICAL)
def save_experience() -> ResponseReturnValue:
    """Record the experience a person states."""
    known = {module.id for module in course().modules}
    try:
        form = ExperienceForm.of(request.form)
        with unit_of_work() as session:
            record_experience(
                session,
                actor=signed_in(),
                experience_id=kept_id(request.form, "experience_id"),
                person_id=form.person_id,
                modules=[module for module in form.modules if module in known],
                statement=form.statement,
                now=clock(),
            )
    except FormRefused as fault:
        return render(_page(fault.filled), 422)
    except TradeError as refusal:
        return render(_page(refused(request.form, refusal, "person_id")), 422)
    flash(_("Recorded. The lessons of these modules may be skipped; everything else is asked."))
    return redirect(url_for("quizzes.experience"), code=303)


def _page(form: Filled) -> ExperiencePage:
    actor = signed_in()
    titles = {module.id: module.title for module in course().modules}
    return ExperiencePage(
        form=form,
        experience_id=kept_id(request.form, "experience_id") if request.form else uuid4(),
        people=tuple(
            Choosable(str(member.person_id), member.name)
            for member in members(db(), actor.shop_id)
            if member.person_id != actor.person_id
        ),
        modules=tuple(Choosable(module_id, title) for module_id, title in titles.items()),
        recorded=tuple(
            RecordedExperience(
                row.person_name,
                ", ".join(titles.get(module, module) for module in row.modules),
                row.statement,
                _(
                    "recorded by %(name)s on %(day)s",
                    name=row.recorded_by_name,
                    day=day_text(shop_day(row.recorded_at)),
                ),
            )
            for row in experiences(db(), actor.shop_id)
        ),
    )
