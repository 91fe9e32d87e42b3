"""Rounds of ratings in words."""

from __future__ import annotations

from academy.domain.assessment.re_rating import (
    RaterAgreement,
    RoundStage,
    Spread,
    rater_agreement,
    rating_in_force,
    spread_of,
)
from academy.domain.curriculum.course import Course
from academy.domain.curriculum.questions import Question
from academy.store.queries.rating_rounds import Ratings, RoundRow
from academy.web.language import gettext as _
from academy.web.parts import Cell, Column, ReadingsTable, Row
from academy.web.times import shop_day


def round_title(row: RoundRow, course: Course) -> str:
    """Return what a round is about and when it was opened."""
    module = course.module(row.module_id)
    return _(
        "%(module)s, %(day)s",
        module=module.title if module else row.module_id,
        day=shop_day(row.opened_at).isoformat(),
    )


def stage_word(stage: RoundStage) -> str:
    """Return where a round stands."""
    return {
        RoundStage.ALONE: _("each rates alone"),
        RoundStage.TALK: _("the spread is shown; ratings may change"),
        RoundStage.DONE: _("taken over; it counts for new forms"),
    }[stage]


def agreement_of(questions: tuple[Question, ...], ratings: Ratings) -> RaterAgreement:
    """Return how far the supervisors of a round agree."""
    return rater_agreement(
        {str(rater): given for rater, given in ratings.items()},
        {question.digest: question.rating_percent for question in questions},
    )


def given_to(question: Question, ratings: Ratings) -> list[int]:
    """Return the ratings of one question, lowest first; who gave which is not told."""
    return sorted(of[question.digest] for of in ratings.values() if question.digest in of)


def others_text(question: Question, ratings: Ratings) -> str:
    """Return all ratings of a question in a line."""
    given = given_to(question, ratings)
    listed = ", ".join(map(str, given)) or "–"
    spread = spread_of(given)
    said = _(
        "Supervisors: %(given)s. The author: %(author)d.",
        given=listed,
        author=question.rating_percent,
    )
    return f"{said} {_('Far apart: talk about it.')}" if spread and spread.wide else said


def spread_table(questions: tuple[Question, ...], ratings: Ratings) -> ReadingsTable:
    """Return the spread of every question, the widest first."""
    columns = (_("Question"), _("Supervisors"), _("The author"), _("Together"), _("Remark"))
    found = [(question, given_to(question, ratings)) for question in questions]
    found.sort(key=lambda one: -_width(spread_of(one[1])))
    return ReadingsTable(
        _("Ratings of 100 barely competent trainees, those furthest apart first"),
        tuple(Column(label, words=number == 4) for number, label in enumerate(columns)),
        tuple(_spread_row(question, given) for question, given in found),
    )


def _spread_row(question: Question, given: list[int]) -> Row:
    spread = spread_of(given)
    remark = _("far apart") if spread is not None and spread.wide else ""
    return Row(
        question.id,
        (
            Cell(", ".join(map(str, given)) or "–"),
            Cell(str(question.rating_percent)),
            Cell(str(rating_in_force(question.rating_percent, given))),
            Cell(remark),
        ),
    )


def _width(spread: Spread | None) -> int:
    return spread.highest - spread.lowest if spread else -1
