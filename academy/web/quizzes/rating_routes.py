"""A supervisor rates questions again: alone first, then with the spread in sight."""

from __future__ import annotations

from collections.abc import Mapping
from uuid import UUID

from flask import abort, flash, redirect, request, url_for
from flask.typing import ResponseReturnValue

from academy.domain.assessment.answer_parts import parts_of
from academy.domain.assessment.re_rating import RoundStage
from academy.domain.curriculum.kinds import Interaction
from academy.domain.curriculum.questions import Question
from academy.domain.people import Permission, Role
from academy.services import rating_round as service
from academy.services.open_forms import refuse_while_it_counts
from academy.store.queries import rating_rounds as queries
from academy.web.context import clock, course, db, unit_of_work
from academy.web.formats import sentence_text
from academy.web.forms import FormRefused, as_typed
from academy.web.identity import requires, signed_in
from academy.web.language import gettext as _
from academy.web.pages import render
from academy.web.parts import Filled, Link, Listed
from academy.web.quizzes.blueprint import bp
from academy.web.quizzes.quality_words import OPTION_LETTERS, STEM_LETTERS, part_text, plain
from academy.web.quizzes.rating_pages import Answerable, OwnRatingsPage, RatePage, ToRate
from academy.web.quizzes.rating_words import agreement_of, others_text, round_title, stage_word
from academy.web.quizzes.shown import split_figure

MOST_DIGITS = 3


@bp.get("/ratings")
@requires(Permission.RATE_QUESTIONS)
def own_ratings() -> ResponseReturnValue:
    """List the rounds one was asked in."""
    actor = signed_in()
    return render(
        OwnRatingsPage(
            tuple(
                Listed(
                    round_title(row, course()),
                    url_for("quizzes.rate", round_id=row.id),
                    stage_word(row.stage),
                )
                for row in queries.rounds(db(), actor.shop_id, actor.person_id)
            )
        )
    )


@bp.get("/ratings/<uuid:round_id>")
@requires(Permission.RATE_QUESTIONS)
def rate(round_id: UUID) -> ResponseReturnValue:
    """Show the questions of a round with one's own ratings, and the others' once they may be seen."""
    row, questions = _asked(round_id), _questions(round_id)
    own = _ratings(round_id).get(signed_in().person_id, {})
    typed = {
        _name(position): str(own[question.digest])
        for position, question in enumerate(questions, 1)
        if question.digest in own
    }
    return render(_page(row, questions, Filled(typed)))


@bp.post("/ratings/<uuid:round_id>")
@requires(Permission.RATE_QUESTIONS)
def save_ratings(round_id: UUID) -> ResponseReturnValue:
    """Keep one's ratings; those left empty can follow later."""
    row, questions = _asked(round_id), _questions(round_id)
    try:
        ratings = _typed(questions)
    except FormRefused as fault:
        return render(_page(row, questions, fault.filled), 422)
    with unit_of_work() as session:
        stage = service.rate_questions(
            session, actor=signed_in(), round_id=round_id, ratings=ratings, now=clock()
        )
    if row.stage is RoundStage.ALONE and stage is RoundStage.TALK:
        flash(_("All have rated. Look at the spread; you may change yours."))
    else:
        flash(_("Your ratings are kept: %(n)d.", n=len(ratings)))
    return redirect(url_for("quizzes.rate", round_id=round_id), code=303)


def _asked(round_id: UUID) -> queries.RoundRow:
    """Return a round one was asked in; 404 for every other."""
    actor = signed_in()
    row = queries.round_row(db(), actor.shop_id, round_id, actor.person_id)
    if row is None:
        abort(404)
    # what is rated may stand on a form of one's own
    refuse_while_it_counts(db(), actor, row.module_id)
    return row


def _questions(round_id: UUID) -> tuple[Question, ...]:
    return queries.round_questions(db(), signed_in().shop_id, round_id)


def _ratings(round_id: UUID) -> queries.Ratings:
    return queries.ratings_of(db(), signed_in().shop_id, round_id)


def _name(position: int) -> str:
    return f"rating-{position}"


def _typed(questions: tuple[Question, ...]) -> Mapping[str, int]:
    """Return the ratings typed, by wording; raises FormRefused where one is no whole number to 100."""
    faults, ratings = {}, {}
    for position, question in enumerate(questions, 1):
        text = request.form.get(_name(position), "").strip().removesuffix("%").strip()
        if not text:
            continue
        if text.isascii() and text.isdigit() and len(text) <= MOST_DIGITS and int(text) <= 100:
            ratings[question.digest] = int(text)
        else:
            faults[_name(position)] = _("Write a whole number from 0 to 100")
    if faults:
        raise FormRefused(Filled(as_typed(request.form), faults))
    return ratings


def _page(row: queries.RoundRow, questions: tuple[Question, ...], form: Filled) -> RatePage:
    seen = row.stage is not RoundStage.ALONE
    ratings = _ratings(row.id) if seen else {}
    return RatePage(
        form=form,
        title_text=round_title(row, course()),
        back=Link(_("Ratings"), url_for("quizzes.own_ratings")),
        says=stage_word(row.stage),
        questions=tuple(
            _to_rate(position, question, others_text(question, ratings) if seen else "")
            for position, question in enumerate(questions, 1)
        ),
        agreement=sentence_text(agreement_of(questions, ratings).says) if seen else "",
        open=row.stage is not RoundStage.DONE,
    )


def _answers(question: Question) -> tuple[Answerable, ...]:
    """Return what can be answered, in an order that tells nothing."""
    if question.interaction is Interaction.NUMERIC_ENTRY:
        return ()
    if question.interaction is Interaction.SCENARIO:
        return tuple(
            Answerable(
                plain(decision.stem_html, STEM_LETTERS),
                tuple(plain(option.text_html, OPTION_LETTERS) for option in decision.options),
            )
            for decision in question.decisions
        )
    names = [part.name for part in parts_of(question)]
    if question.interaction is Interaction.ORDER:
        names.sort()
    answers = [Answerable("", tuple(part_text(question, name) for name in names))]
    if question.partners:
        partners = tuple(plain(one.text_html, OPTION_LETTERS) for one in question.partners)
        answers.append(Answerable(_("To be paired with"), partners))
    return tuple(answers)


def _key(question: Question) -> tuple[str, ...]:
    """Return what is right, in words."""
    if question.interaction is Interaction.MATCH:
        partners = {p.number: plain(p.text_html, OPTION_LETTERS) for p in question.partners}
        return tuple(
            f"{part_text(question, str(left))} → {partners[right]}"
            for left, right in question.key_pairs.items()
        )
    return tuple(part_text(question, part.name) for part in parts_of(question) if part.right)


def _to_rate(position: int, question: Question, others: str) -> ToRate:
    # who is in training rates the question as a candidate meets it
    in_training = Role.TRAINEE in signed_in().roles
    return ToRate(
        name=_name(position),
        heading=_("Question %(number)d", number=position),
        label=_("Question %(number)d: right of 100 barely competent trainees", number=position),
        stem_html=question.stem_html,
        figure_html=split_figure(question).drawing_html,
        answers=_answers(question),
        key=() if in_training else _key(question),
        others=others,
    )
