"""An owner asks supervisors to rate questions again, and takes the ratings over."""

from __future__ import annotations

from uuid import UUID, uuid4

from flask import abort, flash, redirect, request, url_for
from flask.typing import ResponseReturnValue

from academy.domain.assessment.re_rating import RoundStage
from academy.domain.curriculum.course import Module
from academy.domain.people import Permission, Role
from academy.services import rating_round as service
from academy.services.mending import notes_in_force
from academy.services.question_quality import question_quality
from academy.services.ratings import ratings_in_force
from academy.store.queries import rating_rounds as queries
from academy.store.queries.people import members
from academy.web.context import clock, course, db, unit_of_work
from academy.web.formats import sentence_text
from academy.web.forms import FormRefused, kept_id, refused
from academy.web.identity import requires, signed_in
from academy.web.language import gettext as _
from academy.web.language import ngettext
from academy.web.pages import render
from academy.web.parts import Choosable, Fact, Filled, Listed
from academy.web.quizzes.blueprint import bp
from academy.web.quizzes.forms import RoundForm
from academy.web.quizzes.quality_words import plain
from academy.web.quizzes.rating_pages import NewRoundPage, RatingRoundPage, RatingRoundsPage
from academy.web.quizzes.rating_words import agreement_of, round_title, spread_table, stage_word

STEM_LETTERS = 110


@bp.get("/questions/ratings")
@requires(Permission.JUDGE_QUESTIONS)
def rating_rounds() -> ResponseReturnValue:
    """List the rounds of the shop, and the quizzes whose questions can be rated again."""
    return render(
        RatingRoundsPage(
            rounds=tuple(
                Listed(
                    round_title(row, course()),
                    url_for("quizzes.rating_round", round_id=row.id),
                    stage_word(row.stage),
                )
                for row in queries.rounds(db(), signed_in().shop_id)
            ),
            modules=tuple(
                Listed(module.title, url_for("quizzes.new_rating_round", module_id=module.id))
                for module in course().modules
            ),
        )
    )


@bp.get("/questions/ratings/new/<module_id>")
@requires(Permission.JUDGE_QUESTIONS)
def new_rating_round(module_id: str) -> ResponseReturnValue:
    """Show the questions of a module, those to rate again ticked."""
    module = _module(module_id)
    typed = {
        "questions": sorted(_worth_rating(module)),
        "raters": [rater.value for rater in _supervisors()],
    }
    return render(_new_page(module, Filled(typed), uuid4()))


@bp.post("/questions/ratings/new/<module_id>")
@requires(Permission.JUDGE_QUESTIONS)
def open_rating_round(module_id: str) -> ResponseReturnValue:
    """Ask supervisors to rate the chosen questions."""
    module, round_id = _module(module_id), kept_id(request.form, "round_id")
    try:
        form = RoundForm.of(request.form)
        chosen = [question for question in module.questions if question.id in form.questions]
        new = service.NewRound(round_id, module.id, chosen, form.raters)
        with unit_of_work() as session:
            service.open_round(session, actor=signed_in(), new=new, now=clock())
    except FormRefused as fault:
        return render(_new_page(module, fault.filled, round_id), 422)
    except (service.NothingToRate, service.TooManyToRate, service.NotASupervisor) as fault:
        return render(_new_page(module, refused(request.form, fault), round_id), 422)
    flash(_("The supervisors find the questions under Ratings."))
    return redirect(url_for("quizzes.rating_round", round_id=round_id), code=303)


@bp.get("/questions/ratings/<uuid:round_id>")
@requires(Permission.JUDGE_QUESTIONS)
def rating_round(round_id: UUID) -> ResponseReturnValue:
    """Show who has rated, and the spread once the part alone is over."""
    shop_id = signed_in().shop_id
    row = _round(round_id)
    questions = queries.round_questions(db(), shop_id, round_id)
    given = queries.ratings_of(db(), shop_id, round_id)
    seen = row.stage is not RoundStage.ALONE
    agreement = agreement_of(questions, given)
    alpha = "" if agreement.alpha is None else f"{agreement.alpha:.2f}"
    return render(
        RatingRoundPage(
            title_text=round_title(row, course()),
            stage=stage_word(row.stage),
            says=ngettext("One question.", "%(num)s questions.", len(questions)),
            facts=tuple(
                Fact(
                    rater.name,
                    _("%(rated)d of %(all)d rated", rated=len(given.get(rater.person_id, ())), all=len(questions)),
                )
                for rater in queries.raters(db(), shop_id, round_id)
            ),
            agreement=sentence_text(agreement.says) if seen else "",
            coefficient=alpha if seen else "",
            spread=spread_table(questions, given) if seen else None,
            show_url="" if seen else url_for("quizzes.show_rating_spread", round_id=round_id),
            take_over_url=url_for("quizzes.take_ratings_over", round_id=round_id)
            if row.stage is RoundStage.TALK
            else "",
        )
    )  # fmt: skip


@bp.post("/questions/ratings/<uuid:round_id>/spread")
@requires(Permission.JUDGE_QUESTIONS)
def show_rating_spread(round_id: UUID) -> ResponseReturnValue:
    """End the part where each rates alone."""
    with unit_of_work() as session:
        service.show_spread(session, actor=signed_in(), round_id=round_id, now=clock())
    return redirect(url_for("quizzes.rating_round", round_id=round_id), code=303)


@bp.post("/questions/ratings/<uuid:round_id>/take-over")
@requires(Permission.JUDGE_QUESTIONS)
def take_ratings_over(round_id: UUID) -> ResponseReturnValue:
    """Let the ratings count for forms drawn from now on."""
    with unit_of_work() as session:
        service.take_over(session, actor=signed_in(), round_id=round_id, now=clock())
    flash(_("Forms drawn from now on use these ratings; earlier sittings keep their pass mark."))
    return redirect(url_for("quizzes.rating_round", round_id=round_id), code=303)


def _round(round_id: UUID) -> queries.RoundRow:
    """Return a round of the shop; 404 for none and for another shop's."""
    row = queries.round_row(db(), signed_in().shop_id, round_id)
    if row is None:
        abort(404)
    return row


def _module(module_id: str) -> Module:
    module = course().module(module_id)
    if module is None:
        abort(404)
    return module


def _worth_rating(module: Module) -> set[str]:
    """Return the questions on what must be known, and those that stand on the list to mend."""
    must_know = {objective.id for objective in module.must_know}
    shop_id = signed_in().shop_id
    found = question_quality(
        db(), actor=signed_in(), course=course(), ratings=ratings_in_force(db(), shop_id)
    )
    rests = {
        wording for wording, note in notes_in_force(db(), shop_id).items() if note.mending.rests
    }
    flagged = {
        one.id
        for one in found.questions
        if one.now.findings and one.now.question.digest not in rests
    }
    return {q.id for q in module.questions if q.objective_id in must_know or q.id in flagged}


def _supervisors() -> tuple[Choosable, ...]:
    return tuple(
        Choosable(str(one.person_id), one.name)
        for one in members(db(), signed_in().shop_id)
        if Role.SUPERVISOR in one.roles
    )


def _new_page(module: Module, form: Filled, round_id: UUID) -> NewRoundPage:
    must_know = {objective.id for objective in module.must_know}
    return NewRoundPage(
        form=form,
        module_title=module.title,
        round_id=round_id,
        questions=tuple(
            Choosable(
                question.id,
                plain(question.stem_html, STEM_LETTERS),
                _("must be known") if question.objective_id in must_know else "",
            )
            for question in module.questions
        ),
        raters=_supervisors(),
    )
