"""Opening an examination for a trainee who sits there."""

from __future__ import annotations

from uuid import UUID, uuid4

from flask import redirect, request, url_for
from flask.typing import ResponseReturnValue

from academy.domain.assessment.examination import Adjustments
from academy.domain.people import Permission, Role
from academy.domain.sentences import TradeError
from academy.services import examination as service
from academy.store.queries.people import members
from academy.web.context import clock, course, db, unit_of_work
from academy.web.forms import FormRefused, as_typed, kept_id, refused
from academy.web.identity import requires, signed_in
from academy.web.language import gettext as _
from academy.web.language import languages
from academy.web.pages import Page, render
from academy.web.parts import Choosable, Filled
from academy.web.quizzes.blueprint import bp
from academy.web.quizzes.examination_pages import (
    OpenExaminationPage,
)
from academy.web.quizzes.forms import OpenForm

LEARNER = Role.TRAINEE


@bp.get("/examinations/new")
@requires(Permission.OPEN_EXAMINATION)
def new_examination() -> ResponseReturnValue:
    """Show the form to open an examination."""
    return render(_open_page(Filled()))


@bp.post("/examinations/new")
@requires(Permission.OPEN_EXAMINATION)
def open_examination() -> ResponseReturnValue:
    """Open an examination for a trainee."""
    good = course()
    try:
        form = OpenForm.of(request.form)
        if form.language not in languages():
            raise FormRefused(Filled(as_typed(request.form), {"language": _("Choose a language")}))
        with unit_of_work() as session:
            examination_id = service.open_examination(
                session,
                actor=signed_in(),
                new=_new(form, kept_id(request.form, "examination_id")),
                course=good,
                now=clock(),
            )
    except FormRefused as fault:
        return render(_open_page(fault.filled), 422)
    except TradeError as refusal:
        return render(_open_page(refused(request.form, refusal)), 422)
    return redirect(url_for("quizzes.examination", examination_id=examination_id), code=303)


def _new(form: OpenForm, examination_id: UUID) -> service.NewExamination:
    return service.NewExamination(
        examination_id,
        form.trainee_id,
        form.scheme_id,
        form.language,
        Adjustments(
            form.extra_time_percent,
            reader="reader" in form.adjusted,
            interpreter="interpreter" in form.adjusted,
            larger_print="larger_print" in form.adjusted,
        ),
        on_paper=form.on_paper == "yes",
    )


def _open_page(form: Filled) -> Page:
    actor = signed_in()
    return OpenExaminationPage(
        form=form,
        examination_id=kept_id(request.form, "examination_id") if request.form else uuid4(),
        trainees=tuple(
            Choosable(str(m.person_id), m.name)
            for m in members(db(), actor.shop_id)
            if LEARNER in m.roles and m.person_id != actor.person_id
        ),
        schemes=tuple(
            Choosable(scheme.id, scheme.title) for scheme in course().schemes if scheme.examination
        ),
        languages=tuple(Choosable(tag, name) for tag, name in languages().items()),
        adjustments=(
            Choosable(
                "reader", _("Reader"), _("somebody reads the questions aloud, as they stand")
            ),
            Choosable("interpreter", _("Interpreter"), _("somebody translates, and adds nothing")),
            Choosable("larger_print", _("Larger print"), _("the pages and the paper are enlarged")),
        ),
    )
