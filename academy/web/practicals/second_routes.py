"""Judging a signed practical again, blind."""

from __future__ import annotations

from uuid import UUID

from flask import abort, flash, redirect, request, url_for
from flask.typing import ResponseReturnValue

from academy.domain.people import Permission
from academy.domain.practical.outcome import measured_of
from academy.domain.practical.second_judgement import (
    Answer,
    Pair,
    beyond_chance,
    how_they_agree,
    pairs_of,
)
from academy.domain.sentences import TradeError
from academy.services import second_judgement as service
from academy.store.queries import judgement as queries
from academy.store.queries.practicals import StoredPractical, stored_practical
from academy.web.context import clock, db, unit_of_work
from academy.web.formats import sentence_text
from academy.web.forms import refused
from academy.web.identity import requires, signed_in
from academy.web.language import gettext as _
from academy.web.pages import render
from academy.web.parts import Choosable, Filled, Link, Listed
from academy.web.practicals.blueprint import bp
from academy.web.practicals.desk_pages import SecondPage, SecondsPage
from academy.web.practicals.one import practical_for
from academy.web.practicals.record_cards import utc_text
from academy.web.practicals.recorded import recorded
from academy.web.practicals.removal_shown import readings_tables


@bp.get("/second-judgements")
@requires(Permission.JUDGE_AGAIN)
def second_judgements() -> ResponseReturnValue:
    """List what was drawn, and say how second judgements agree with the first."""
    rows = queries.second_judgements(db(), signed_in().shop_id)
    pairs = [pair for row in rows if row.answers for pair in pairs_of(row.first, row.answers)]
    return render(
        SecondsPage(
            agreement=sentence_text(how_they_agree(pairs)),
            measure=_measure(pairs),
            waiting=tuple(_line(row) for row in rows if row.answers is None),
            given=tuple(_line(row) for row in rows if row.answers is not None),
        )
    )


@bp.get("/second-judgements/<uuid:judgement_id>")
@requires(Permission.JUDGE_AGAIN)
def second_judgement(judgement_id: UUID) -> ResponseReturnValue:
    """Show what was recorded, without how it was judged."""
    row, stored = _found(judgement_id)
    if row.answers is not None:
        return redirect(url_for("practicals.practical", practical_id=row.practical_id), code=303)
    return render(_page(row, stored, Filled()))


@bp.post("/second-judgements/<uuid:judgement_id>")
@requires(Permission.JUDGE_AGAIN)
def judge_again(judgement_id: UUID) -> ResponseReturnValue:
    """Judge it again."""
    row, stored = _found(judgement_id)
    answers = {
        c.id: Answer(sent)
        for c in stored.practical.task.criteria
        if (sent := request.form.get(f"criterion-{c.id}", "")) in set(Answer)
    }
    try:
        with unit_of_work() as session:
            service.judge_again(
                session,
                actor=signed_in(),
                judgement_id=judgement_id,
                answers=answers,
                now=clock(),
            )
    except TradeError as refusal:
        return render(_page(row, stored, refused(request.form, refusal)), 422)
    flash(_("Your judgement is kept beside the first."))
    return redirect(url_for("practicals.practical", practical_id=row.practical_id), code=303)


@bp.post("/<uuid:practical_id>/first-judgement")
@requires(Permission.JUDGE_AGAIN)
def see_first_judgement(practical_id: UUID) -> ResponseReturnValue:
    """Show how it was judged to somebody who then does not judge it again."""
    practical_for(signed_in(), practical_id)
    with unit_of_work() as session:
        service.see_first_judgement(
            session, actor=signed_in(), practical_id=practical_id, now=clock()
        )
    return redirect(url_for("practicals.practical", practical_id=practical_id), code=303)


def _found(judgement_id: UUID) -> tuple[queries.SecondRow, StoredPractical]:
    """Return a drawn practical of the shop; 404 for none and for another shop's."""
    shop_id = signed_in().shop_id
    row = next(iter(queries.second_judgements(db(), shop_id, judgement_id=judgement_id)), None)
    stored = stored_practical(db(), shop_id, row.practical_id) if row else None
    if row is None or stored is None:
        abort(404)
    return row, stored


def _line(row: queries.SecondRow) -> Listed:
    title = _(
        "%(task)s, %(trainee)s, drawn %(at)s",
        task=row.task_title,
        trainee=row.trainee_name,
        at=utc_text(row.drawn_at),
    )
    url = url_for("practicals.second_judgement", judgement_id=row.id)
    if row.answers is None:
        return Listed(title, url, _("waits for somebody who was not there"), "waiting")
    agree = sentence_text(how_they_agree(pairs_of(row.first, row.answers)))
    says = _("%(name)s: %(agree)s", name=row.judged_by_name, agree=agree)
    return Listed(title, url, says, "saved")


def _measure(pairs: list[Pair]) -> str:
    """Return the agreement beyond chance, for whoever opens it; empty where there is none."""
    if not pairs:
        return ""
    found = beyond_chance(pairs)
    if found is None:
        return _("Every judgement was the same, so agreement beyond chance cannot be computed.")
    return _(
        "Cohen's kappa %(kappa).2f over %(n)d criteria: 0 is what chance alone would give, 1 is"
        " full agreement. With few criteria or nearly everything met it says little.",
        kappa=found,
        n=len(pairs),
    )


def _page(row: queries.SecondRow, stored: StoredPractical, form: Filled) -> SecondPage:
    practical = stored.practical
    shown = measured_of(practical, stored.gauge)
    seen = [str(person) for person in row.seen_by]
    return SecondPage(
        form=form,
        practical_id=practical.id,
        title=practical.task.title,
        verdict=sentence_text(shown.verdict) if shown else "",
        said=recorded(practical, sacrificial=stored.sacrificial),
        readings=readings_tables(practical, shown),
        photographs=tuple(
            Link(
                photograph.caption or _("Photograph"),
                url_for(
                    "practicals.photograph",
                    practical_id=practical.id,
                    photograph_id=photograph.id,
                ),
            )
            for photograph in stored.photographs
        ),
        criteria=tuple(c for c in practical.task.criteria if not c.measured),
        answers=(
            Choosable(Answer.MET, _("met")),
            Choosable(Answer.NOT_MET, _("not met")),
            Choosable(Answer.CANNOT_SEE, _("cannot be seen from the record")),
        ),
        may_judge=signed_in().person_id not in service.involved_in(stored, seen),
    )
