"""A form is drawn whenever there is one, and two sittings share only what the blueprint forces."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from itertools import combinations, product
from random import Random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from academy.domain.assessment.forms import Form, TooFewQuestions, draw_form
from academy.domain.assessment.least_seen import give_each_other_away
from academy.domain.assessment.results import result_of
from academy.domain.assessment.retake import held_back
from academy.domain.curriculum.kinds import Level
from academy.domain.curriculum.questions import Blueprint, Question
from tests.support.course import a_blueprint, a_question

OBJECTIVES = ("cord", "goggles", "dust")
SEEDS = st.integers(0, 2**32)


@st.composite
def banks(draw: st.DrawFn) -> list[Question]:
    """Draw a small bank in which many questions give others away, across objectives too."""
    ids = [f"q{number}" for number in range(draw(st.integers(1, 9)))]
    return [
        a_question(
            name,
            objective_id=draw(st.sampled_from(OBJECTIVES)),
            level=Level.APPLY,
            apart_from=tuple(draw(st.lists(st.sampled_from(ids), max_size=2, unique=True))),
        )
        for name in ids
    ]


blueprints = st.dictionaries(
    st.sampled_from(OBJECTIVES), st.integers(1, 3), min_size=1, max_size=3
).map(a_blueprint)


def every_form(bank: list[Question], blueprint: Blueprint) -> Iterator[list[Question]]:
    """Return every choice that meets the blueprint, by trying all of them."""
    cells = [
        combinations([q for q in bank if q.objective_id == cell.objective_id], cell.questions)
        for cell in blueprint.cells
    ]
    for chosen in product(*cells):
        questions = [question for cell in chosen for question in cell]
        if not any(give_each_other_away(one, other) for one, other in combinations(questions, 2)):
            yield questions


def drawn(bank: list[Question], blueprint: Blueprint, seed: int, seen: dict[str, int]) -> Form:
    """Draw a form by a seed."""
    return draw_form(bank, blueprint, Random(seed), seen)


@given(banks(), blueprints, SEEDS)
def test_a_form_is_refused_only_when_no_choice_of_questions_makes_one(
    bank: list[Question], blueprint: Blueprint, seed: int
) -> None:
    if next(every_form(bank, blueprint), None) is not None:
        assert drawn(bank, blueprint, seed, {}).questions
        return
    with pytest.raises(TooFewQuestions) as refusal:
        drawn(bank, blueprint, seed, {})
    lacking = refusal.value
    named = next(c for c in blueprint.cells if c.objective_id == lacking.objective_id)
    assert lacking.available < lacking.needed == named.questions


@given(banks(), blueprints, SEEDS, st.dictionaries(st.integers(0, 8), st.integers(1, 4)))
def test_the_questions_of_a_form_were_seen_least_in_all(
    bank: list[Question], blueprint: Blueprint, seed: int, counts: dict[int, int]
) -> None:
    seen = {f"q{number}": times for number, times in counts.items()}
    least = min(
        (sum(seen.get(q.id, 0) for q in form) for form in every_form(bank, blueprint)),
        default=None,
    )
    if least is not None:
        form = drawn(bank, blueprint, seed, seen)
        assert sum(seen.get(name, 0) for name in form.question_ids) == least


@given(banks(), blueprints, SEEDS, st.dictionaries(st.integers(0, 8), st.integers(1, 4)))
def test_two_sittings_share_only_what_the_blueprint_forces(
    bank: list[Question], blueprint: Blueprint, seed: int, practised: dict[int, int]
) -> None:
    forms = [{q.id for q in form} for form in every_form(bank, blueprint)]
    if not forms:
        return
    first = drawn(bank, blueprint, seed, {})
    seen = Counter(first.question_ids)
    seen.update({f"q{number}": times for number, times in practised.items()})
    behind = held_back(seen, result_of(first, {}, ()))
    second = drawn(bank, blueprint, seed + 1, behind)
    forced = min(len(form & set(first.question_ids)) for form in forms)
    assert len(set(second.question_ids) & set(first.question_ids)) == forced


@given(SEEDS)
def test_a_less_seen_question_gives_way_to_two_that_it_shuts_out(seed: int) -> None:
    # nothing was seen but 'old': 'hub' would leave only 'old' beside it
    bank = [
        a_question("hub", apart_from=("left", "right")),
        a_question("left"),
        a_question("right"),
        a_question("old"),
    ]
    form = drawn(bank, a_blueprint({"cord": 2}), seed, {"old": 1})
    assert set(form.question_ids) == {"left", "right"}


def test_equally_seen_questions_of_a_pair_are_both_drawn_now_and_then() -> None:
    bank = [
        a_question("cord", apart_from=("goggles",)),
        a_question("cord too"),
        a_question("goggles", objective_id="goggles"),
        a_question("goggles too", objective_id="goggles"),
    ]
    counted = Counter(
        name
        for seed in range(400)
        for name in drawn(bank, a_blueprint({"cord": 1, "goggles": 1}), seed, {}).question_ids
    )
    # alone in a quarter of the forms, and in half of the quarter in which they would meet
    assert 100 < counted["cord"] < 200
    assert 100 < counted["goggles"] < 200


def test_without_a_sitting_before_nothing_is_held_back() -> None:
    assert held_back({"q1": 2}, None) == {"q1": 2}
