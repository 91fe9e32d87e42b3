"""Printing an examination and its key, and entering what was written."""

from __future__ import annotations

from collections.abc import Mapping
from uuid import UUID

from flask import abort, flash, redirect, request, url_for
from flask.typing import ResponseReturnValue

from academy.domain.assessment.forms import FormQuestion
from academy.domain.assessment.frozen import drawn_form_from_frozen
from academy.domain.people import Permission
from academy.services import examination_paper as service
from academy.services.actor import Actor
from academy.services.open_forms import refuse_while_it_counts
from academy.store.queries.examinations import paper_entries
from academy.web.context import clock, course, db, unit_of_work
from academy.web.forms import as_typed, error_text
from academy.web.identity import requires, signed_in
from academy.web.language import gettext as _
from academy.web.pages import render
from academy.web.parts import Fact
from academy.web.quizzes.blueprint import bp
from academy.web.quizzes.examination_pages import (
    EnterPaperPage,
    EntryQuestion,
    KeyPage,
    PaperPage,
)
from academy.web.quizzes.examination_routes import Examined, examined
from academy.web.quizzes.one_language import in_its_language
from academy.web.quizzes.paper import entered, key_line, printed
from academy.web.quizzes.words import conditions_facts


@bp.get("/examinations/<uuid:examination_id>/paper")
@requires(Permission.OPEN_EXAMINATION)
@in_its_language
def paper(examination_id: UUID) -> ResponseReturnValue:
    """Show an examination to print; it tells nothing about its key."""
    found = _on_paper(signed_in(), examination_id)
    items = _items(found)
    return render(
        PaperPage(
            scheme_title=found.title,
            examination_url=_url(examination_id),
            facts=(*_whose(found), *conditions_facts(found.row.conditions, len(items))),
            questions=tuple(printed(n, item) for n, item in enumerate(items, 1)),
            larger_print=found.row.conditions["larger_print"],
        )
    )


@bp.get("/examinations/<uuid:examination_id>/key")
@requires(Permission.OPEN_EXAMINATION)
def key(examination_id: UUID) -> ResponseReturnValue:
    """Show the key of a printed examination; never to its candidate."""
    found = _on_paper(signed_in(), examination_id)
    items = _items(found)
    refuse_while_it_counts(db(), signed_in(), questions={item.question.id for item in items})
    return render(
        KeyPage(
            scheme_title=found.title,
            examination_url=_url(examination_id),
            facts=_whose(found),
            lines=tuple(key_line(n, item) for n, item in enumerate(items, 1)),
        )
    )


@bp.get("/examinations/<uuid:examination_id>/enter")
@requires(Permission.ENTER_PAPER)
def enter_paper(examination_id: UUID) -> ResponseReturnValue:
    """Show the form to enter a paper as one reads it."""
    return render(_entry_page(_on_paper(signed_in(), examination_id), {}))


@bp.post("/examinations/<uuid:examination_id>/enter")
@requires(Permission.ENTER_PAPER)
def save_paper(examination_id: UUID) -> ResponseReturnValue:
    """Keep one person's reading; the second equal one hands the paper in."""
    found, good = _on_paper(signed_in(), examination_id), course()
    readings = {
        item.question.id: entered(item, request.form, _prefix(position))
        for position, item in enumerate(_items(found), 1)
    }
    try:
        with unit_of_work() as session:
            handed_in = service.enter_paper(
                session,
                actor=signed_in(),
                sitting_id=examination_id,
                responses={name: given for name, given in readings.items() if given is not None},
                course=good,
                now=clock(),
            )
    except service.EntriesDiffer as refusal:
        again = _on_paper(signed_in(), examination_id)
        return render(_entry_page(again, as_typed(request.form), refusal), 422)
    flash(
        _("Both entries agree; the paper is handed in.")
        if handed_in
        else _("Your entry is kept. A second person enters the paper without looking at yours.")
    )
    return redirect(_url(examination_id), code=303)


def _on_paper(actor: Actor, examination_id: UUID) -> Examined:
    found = examined(actor, examination_id)
    if not found.row.conditions["on_paper"]:
        abort(404)
    return found


def _whose(found: Examined) -> tuple[Fact, ...]:
    """Return what a paper and its key are known by: each form is another one."""
    return (
        Fact(_("Candidate"), found.row.person_name),
        Fact(_("Form"), str(found.row.id).split("-", maxsplit=1)[0]),
    )


def _items(found: Examined) -> tuple[FormQuestion, ...]:
    return drawn_form_from_frozen(found.sitting.form).form.questions


def _url(examination_id: UUID) -> str:
    return url_for("quizzes.examination", examination_id=examination_id)


def _prefix(position: int) -> str:
    return f"q{position}-"


def _entry_page(
    found: Examined, typed: Mapping[str, object], refusal: service.EntriesDiffer | None = None
) -> EnterPaperPage:
    differing = set(refusal.questions.split(", ")) if refusal else set()
    return EnterPaperPage(
        examination_id=found.row.id,
        scheme_title=found.title,
        candidate=found.row.person_name,
        says=_entered_words(found),
        fault=error_text(refusal) if refusal else "",
        questions=tuple(
            EntryQuestion(
                position, _prefix(position), printed(position, item), str(position) in differing
            )
            for position, item in enumerate(_items(found), 1)
        ),
        typed=dict(typed),
    )


def _entered_words(found: Examined) -> str:
    entries = paper_entries(db(), signed_in().shop_id, found.row.id)
    if any(entry.entered_by == signed_in().person_id for entry in entries):
        return _("You have entered this paper. Entering it again replaces what you entered.")
    if entries:
        return _("One person has entered this paper. Read it yourself; the two are compared.")
    return _("Nobody has entered this paper yet. A second person enters it after you.")
