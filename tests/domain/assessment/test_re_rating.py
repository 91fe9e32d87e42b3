"""Ratings after a round, the error of a pass mark, and agreement in words."""

from __future__ import annotations

import pytest

from academy.domain.assessment import re_rating
from academy.domain.assessment.forms import Form, FormQuestion
from academy.domain.assessment.frozen import (
    DrawnForm,
    drawn_form_from_frozen,
    frozen_drawn_form,
)
from academy.domain.assessment.re_rating import (
    CutRating,
    RatedQuestion,
    cut_rating,
    rater_agreement,
    rating_in_force,
    spread_of,
)
from tests.support.course import a_digest, a_question


def a_form(*names: str) -> Form:
    return Form(tuple(FormQuestion(a_question(name), (1, 2, 3, 4)) for name in names))


@pytest.mark.parametrize(
    ("author", "supervisors", "percent"),
    [
        (70, (), 70),
        (70, (60,), 65),
        (70, (61,), 66),
        (60, (70, 71), 67),
        (0, (0,), 0),
        (100, (100, 100), 100),
    ],
)
def test_the_rating_is_the_mean_of_author_and_supervisors_halves_up(
    author: int, supervisors: tuple[int, ...], percent: int
) -> None:
    assert rating_in_force(author, supervisors) == percent


def test_a_spread_of_twenty_is_worth_talking_about() -> None:
    near, far = spread_of([60, 79]), spread_of([60, 80])
    assert near is not None
    assert far is not None
    assert (near.wide, far.wide) == (False, True)
    assert spread_of([]) is None


def test_a_form_without_such_questions_has_no_such_pass_mark() -> None:
    assert cut_rating(a_form("a"), {a_digest("b"): RatedQuestion("r", 70, {"tom": 60})}) is None


def test_the_error_of_the_pass_mark_is_that_of_the_raters_totals() -> None:
    """Totals 150, 130, 110 of three raters: sd 20, over √3 = 11.5 percent of a question."""
    rated = {
        a_digest("a"): RatedQuestion("r", 80, {"tom": 70, "ann": 60}),
        a_digest("b"): RatedQuestion("r", 70, {"tom": 60, "ann": 50}),
    }
    assert cut_rating(a_form("a", "b", "c"), rated) == CutRating(2, 3, 12)


def test_rounds_add_as_squares() -> None:
    """Two raters 10 apart: sd 7.07, over √2 = 5; twice: √50 = 7."""
    rated = {
        a_digest("a"): RatedQuestion("first", 80, {"tom": 70}),
        a_digest("b"): RatedQuestion("second", 60, {"tom": 70}),
    }
    assert cut_rating(a_form("a", "b"), rated) == CutRating(2, 2, 7)


def test_who_left_a_question_out_does_not_count_for_the_error() -> None:
    rated = {
        a_digest("a"): RatedQuestion("r", 80, {"tom": 70, "ann": 10}),
        a_digest("b"): RatedQuestion("r", 60, {"tom": 60}),
    }
    assert cut_rating(a_form("a", "b"), rated) == CutRating(2, 2, 5)


def test_a_form_keeps_how_its_pass_mark_came_about() -> None:
    drawn = DrawnForm(a_form("a"), ("cord",), 7, CutRating(1, 3, 12))
    assert drawn_form_from_frozen(frozen_drawn_form(drawn)) == drawn
    plain = DrawnForm(a_form("a"), ("cord",), 7)
    assert "cut_rating" not in frozen_drawn_form(plain)
    assert drawn_form_from_frozen(frozen_drawn_form(plain)) == plain


AUTHOR = {f"q{n}": 70 for n in range(6)}
HARD = dict(zip(AUTHOR, (90, 40, 70, 55, 80, 30), strict=True))


@pytest.mark.parametrize(
    ("ratings", "kind"),
    [
        pytest.param({}, re_rating.NobodyRated, id="nobody"),
        pytest.param({"tom": {}}, re_rating.NobodyRated, id="asked and never rated"),
        pytest.param({"tom": HARD}, re_rating.OneRater, id="one supervisor"),
        pytest.param(
            {"tom": {"q1": 60}, "ann": {"q2": 60}}, re_rating.TooFewRated, id="never the same"
        ),
        pytest.param(
            {"tom": {"q1": 60}, "ann": {"q1": 70}}, re_rating.TooFewRated, id="one question"
        ),
        pytest.param({"tom": HARD, "ann": HARD}, re_rating.RatersAgree, id="alike"),
        pytest.param(
            {"tom": AUTHOR, "ann": AUTHOR}, re_rating.RatersAgree, id="all the same number"
        ),
        pytest.param(
            {"tom": HARD, "ann": {q: 120 - p for q, p in HARD.items()}},
            re_rating.RatersDiffer,
            id="the other way round",
        ),
    ],
)
def test_agreement_in_words(ratings: dict[str, dict[str, int]], kind: type) -> None:
    found = rater_agreement(ratings, AUTHOR)
    assert isinstance(found.says, kind)
    assert str(found.says)


def test_one_rater_is_compared_with_the_author() -> None:
    found = rater_agreement({"tom": {"q1": 60, "q2": 90}}, AUTHOR)
    assert found.says == re_rating.OneRater(15)
    assert found.alpha is None


def test_gaps_are_left_out_of_the_distance() -> None:
    found = rater_agreement(
        {"tom": HARD, "ann": {q: p + 4 for q, p in HARD.items() if q != "q0"}}, AUTHOR
    )
    assert found.says == re_rating.RatersAgree(4)
