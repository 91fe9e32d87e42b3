"""The score against the form's cut, and each must-know objective on its own."""

from __future__ import annotations

from typing import Any

import pytest

from academy.domain.assessment.forms import Form, FormQuestion
from academy.domain.assessment.frozen import (
    DrawnForm,
    drawn_form_from_frozen,
    frozen_drawn_form,
    frozen_result,
    result_from_frozen,
)
from academy.domain.assessment.results import SittingResult, result_of
from tests.support.course import a_question, a_question_of_each_kind

RIGHT: dict[str, Any] = {"chosen": 1}
WRONG: dict[str, Any] = {"chosen": 2}


def a_form(*ratings: int) -> Form:
    """Return 'cord-1', 'cord-2', 'goggles-1', 'goggles-2' as far as there are ratings."""
    names = ("cord-1", "cord-2", "goggles-1", "goggles-2")
    return Form(
        tuple(
            FormQuestion(
                a_question(name, objective_id=name.split("-")[0], rating_percent=rating),
                (1, 2, 3, 4),
            )
            for name, rating in zip(names, ratings, strict=False)
        )
    )


def sat(right: str, *ratings: int, must_know: tuple[str, ...] = ("cord",)) -> SittingResult:
    """Return the result of answering the questions marked 'r' right, the others wrong."""
    form = a_form(*ratings)
    responses = {
        name: RIGHT if mark == "r" else WRONG
        for name, mark in zip(form.question_ids, right, strict=True)
    }
    return result_of(form, responses, must_know)


@pytest.mark.parametrize(
    ("right", "ratings", "reached", "passed"),
    [
        pytest.param("rrrr", (70, 70, 70, 70), True, True, id="all right"),
        pytest.param("rrrw", (75, 75, 75, 75), True, True, id="equal to the cut passes"),
        pytest.param("rrrw", (75, 75, 75, 76), False, False, id="one point below does not"),
        pytest.param("rwrr", (70, 70, 70, 70), True, False, id="a must-know one was missed"),
        pytest.param("rrww", (50, 50, 50, 50), True, True, id="others may be missed"),
        pytest.param("wwww", (70, 70, 70, 70), False, False, id="nothing right"),
    ],
)
def test_passing_takes_the_cut_and_every_must_know_objective(
    right: str, ratings: tuple[int, ...], reached: bool, passed: bool
) -> None:
    result = sat(right, *ratings)
    assert result.reached_cut is reached
    assert result.passed is passed


def test_a_missed_must_know_objective_is_named_and_others_are_not() -> None:
    assert sat("rwwr", 50, 50, 50, 50).missed_must_know == ("cord",)
    assert sat("rrww", 50, 50, 50, 50).missed_must_know == ()


def test_a_must_know_objective_needs_every_one_of_its_questions() -> None:
    objectives = {o.objective_id: o for o in sat("rwrr", 50, 50, 50, 50).objectives}
    assert (objectives["cord"].right, objectives["cord"].asked) == (1, 2)
    assert not objectives["cord"].met
    assert objectives["goggles"].met


def test_partial_marks_count_for_the_score_but_do_not_meet_an_objective() -> None:
    half = a_question("cord-1", marks={1: 100, 2: 60}, rating_percent=60)
    result = result_of(Form((FormQuestion(half, (1, 2)),)), {"cord-1": WRONG}, ["cord"])
    assert result.score_points == 60
    assert result.reached_cut
    assert not result.passed


def test_a_question_without_a_response_earns_nothing() -> None:
    result = result_of(a_form(50, 50), {"cord-1": RIGHT}, [])
    assert [question.marks for question in result.questions] == [100, 0]
    assert (result.score_points, result.cut_points, result.full_points) == (100, 100, 200)


def test_a_response_to_a_question_of_another_form_counts_for_nothing() -> None:
    assert result_of(a_form(50), {"rotary-9": RIGHT}, []).score_points == 0


def test_a_result_is_kept_and_read_again_unchanged() -> None:
    result = sat("rwrr", 50, 60, 70, 80)
    assert result_from_frozen(frozen_result(result)) == result


def test_a_form_is_kept_with_its_wording_and_read_again_unchanged() -> None:
    questions = a_question_of_each_kind()
    form = Form(tuple(FormQuestion(question, (2, 1), (3, 1, 2)) for question in questions))
    drawn = DrawnForm(form, ("cord",), 2**64 - 1)
    again = drawn_form_from_frozen(frozen_drawn_form(drawn))
    assert again == drawn
