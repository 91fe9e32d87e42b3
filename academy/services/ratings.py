"""Ratings in force: what a supervisors' round put in place of the author's alone."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from uuid import UUID

from sqlalchemy.orm import Session

from academy.domain.assessment.forms import Form, FormQuestion
from academy.domain.assessment.frozen import DrawnForm
from academy.domain.assessment.re_rating import RatedQuestion, cut_rating
from academy.store.queries.rating_rounds import rated_questions


def ratings_in_force(session: Session, shop_id: UUID) -> dict[str, int]:
    """Return the ratings that stand in place of the author's, by wording, in percent."""
    return percents(rated_questions(session, shop_id))


def percents(rated: Mapping[str, RatedQuestion]) -> dict[str, int]:
    """Return the rating of each wording that was rated again, in percent."""
    return {wording: one.percent for wording, one in rated.items()}


def rated_form(session: Session, shop_id: UUID, drawn: DrawnForm) -> DrawnForm:
    """Return a drawn form with the ratings in force, and how its pass mark came about.

    A form keeps the ratings it was drawn with; later rounds leave it alone.
    """
    rated = rated_questions(session, shop_id)
    if not rated:
        return drawn
    questions = tuple(_rated(item, rated) for item in drawn.form.questions)
    return replace(drawn, form=Form(questions), cut_rating=cut_rating(drawn.form, rated))


def _rated(item: FormQuestion, rated: Mapping[str, RatedQuestion]) -> FormQuestion:
    again = rated.get(item.question.digest)
    if again is None:
        return item
    return replace(item, question=replace(item.question, rating_percent=again.percent))
