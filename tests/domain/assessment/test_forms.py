"""Every form meets its blueprint, or the objective that lacks questions is named."""

from __future__ import annotations

from collections import Counter
from itertools import combinations
from random import Random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from academy.domain.assessment.drawing import TooFewQuestions, draw_again, draw_form
from academy.domain.assessment.forms import Form, laid_out
from academy.domain.assessment.least_seen import NEVER_SEEN, Seen, give_each_other_away
from academy.domain.curriculum.kinds import Level
from academy.domain.curriculum.questions import Blueprint, BlueprintCell, Question
from tests.support.course import a_blueprint, a_module, a_question, a_question_of_each_kind

OBJECTIVES = ("cord", "goggles", "dust")
LEVELS = tuple(Level)


@st.composite
def banks(draw: st.DrawFn) -> list[Question]:
    """Draw a bank in which some questions give others away."""
    size = draw(st.integers(0, 14))
    ids = [f"q{number}" for number in range(size)]
    return [
        a_question(
            name,
            objective_id=draw(st.sampled_from(OBJECTIVES)),
            level=draw(st.sampled_from(LEVELS)),
            apart_from=tuple(draw(st.lists(st.sampled_from(ids), max_size=2, unique=True))),
        )
        for name in ids
    ]


@st.composite
def blueprints(draw: st.DrawFn) -> Blueprint:
    """Draw a blueprint with no cell twice."""
    pairs = st.tuples(st.sampled_from(OBJECTIVES), st.sampled_from(LEVELS))
    cells = draw(st.dictionaries(pairs, st.integers(1, 4), max_size=5))
    return Blueprint(tuple(BlueprintCell(o, level, count) for (o, level), count in cells.items()))


def _cells_of(form: Form) -> Counter[tuple[str, Level]]:
    return Counter((item.question.objective_id, item.question.level) for item in form.questions)


def attempted(bank: list[Question], blueprint: Blueprint, seed: int) -> Form | TooFewQuestions:
    """Return the form, or what kept it from being drawn."""
    try:
        return draw_form(bank, blueprint, Random(seed))
    except TooFewQuestions as lacking:
        return lacking


@given(banks(), blueprints(), st.integers())
def test_a_form_meets_its_blueprint_or_the_lacking_objective_is_named(
    bank: list[Question], blueprint: Blueprint, seed: int
) -> None:
    asked = {(c.objective_id, c.level): c.questions for c in blueprint.cells}
    drawn = attempted(bank, blueprint, seed)
    if isinstance(drawn, TooFewQuestions):
        assert asked[drawn.objective_id, Level(drawn.level)] == drawn.needed > drawn.available
    else:
        assert _cells_of(drawn) == asked
        assert len(set(drawn.question_ids)) == len(drawn.questions)


@given(banks(), blueprints(), st.integers())
def test_questions_that_give_each_other_away_never_meet_on_a_form(
    bank: list[Question], blueprint: Blueprint, seed: int
) -> None:
    drawn = attempted(bank, blueprint, seed)
    assert isinstance(drawn, TooFewQuestions) or not any(
        give_each_other_away(one.question, other.question)
        for one, other in combinations(drawn.questions, 2)
    )


@given(banks(), st.integers(1, 4), st.integers())
def test_one_cell_is_refused_only_when_no_choice_of_questions_fills_it(
    bank: list[Question], wanted: int, seed: int
) -> None:
    blueprint = Blueprint((BlueprintCell("cord", Level.APPLY, wanted),))
    of_cell = [q for q in bank if q.objective_id == "cord" and q.level is Level.APPLY]
    fits = any(
        not any(give_each_other_away(one, other) for one, other in combinations(chosen, 2))
        for chosen in combinations(of_cell, wanted)
    )
    assert isinstance(attempted(bank, blueprint, seed), Form) is fits


@given(st.integers())
def test_a_question_that_shuts_out_two_others_does_not_keep_a_form_from_being_drawn(
    seed: int,
) -> None:
    # 'hub' beside neither 'left' nor 'right': only the other two make a form of two
    bank = [
        a_question("hub", apart_from=("left", "right")),
        a_question("left"),
        a_question("right"),
    ]
    form = draw_form(bank, a_blueprint({"cord": 2}), Random(seed))
    assert set(form.question_ids) == {"left", "right"}


@given(st.integers())
def test_questions_of_two_objectives_that_give_each_other_away_do_not_meet(seed: int) -> None:
    bank = [
        a_question("cord", apart_from=("goggles",)),
        a_question("goggles", objective_id="goggles"),
        a_question("goggles too", objective_id="goggles"),
    ]
    form = draw_form(bank, a_blueprint({"cord": 1, "goggles": 1}), Random(seed))
    assert set(form.question_ids) == {"cord", "goggles too"}


@given(st.integers())
def test_the_questions_seen_least_come_first(seed: int) -> None:
    module = a_module()
    seen = {"safety-cord-1": 2, "safety-cord-2": 1, "safety-cord-4": 1, "safety-goggles-3": 5}
    form = draw_form(module.questions, module.blueprint, Random(seed), Seen(seen))
    drawn = set(form.question_ids)
    assert "safety-cord-3" in drawn
    assert "safety-cord-1" not in drawn
    assert "safety-goggles-3" not in drawn


def test_chance_decides_between_questions_seen_equally_often() -> None:
    module = a_module()
    drawn = {
        question_id
        for seed in range(30)
        for question_id in draw_form(module.questions, module.blueprint, Random(seed)).question_ids
    }
    assert drawn == {question.id for question in module.questions}


def test_the_order_of_questions_is_not_the_order_of_the_blueprint() -> None:
    module = a_module()
    orders = {
        tuple(item.question.objective_id for item in form.questions)
        for form in (
            draw_form(module.questions, module.blueprint, Random(seed)) for seed in range(30)
        )
    }
    assert len(orders) > 2


def test_the_same_seed_draws_the_same_form() -> None:
    module = a_module()
    one, other = (draw_form(module.questions, module.blueprint, Random(7)) for _ in range(2))
    assert one == other


def test_the_cut_of_a_form_is_the_sum_of_its_questions_ratings() -> None:
    bank = [a_question("one", rating_percent=55), a_question("two", rating_percent=81)]
    form = draw_form(bank, a_blueprint({"cord": 2}), Random(1))
    assert form.cut_points == 136
    assert form.full_points == 200


def test_a_lack_of_questions_is_said_in_a_sentence() -> None:
    with pytest.raises(TooFewQuestions) as lacking:
        draw_form([a_question()], a_blueprint({"cord": 2}), Random(1))
    assert str(lacking.value) == (
        "objective cord has 1 questions to draw at level 'apply' and the form needs 2"
    )


def test_a_question_is_found_on_its_form_and_no_other_is() -> None:
    form = draw_form([a_question("one")], a_blueprint({"cord": 1}), Random(1))
    found = form.find("one")
    assert found is not None
    assert found.question.id == "one"
    assert form.find("two") is None


@pytest.mark.parametrize("question", a_question_of_each_kind(), ids=lambda q: q.id)
def test_every_option_is_shown_exactly_once(question: Question) -> None:
    item = laid_out(question, Random(3))
    assert sorted(item.option_order) == [option.number for option in question.options]
    assert sorted(item.partner_order) == [partner.number for partner in question.partners]


def test_options_that_belong_in_their_order_keep_it() -> None:
    fixed = a_question(shuffle=False)
    assert {laid_out(fixed, Random(seed)).option_order for seed in range(20)} == {(1, 2, 3, 4)}


def test_other_options_are_shown_in_any_order() -> None:
    assert len({laid_out(a_question(), Random(seed)).option_order for seed in range(60)}) > 12


class TestAskingAgain:
    """Missed must-know objectives are asked again in other words."""

    def test_each_missed_objective_gets_two_questions_not_seen_yet(self) -> None:
        module = a_module()
        seen = {"safety-cord-1": 1, "safety-cord-2": 1}
        for seed in range(20):
            form = draw_again(module.questions, ["cord"], Random(seed), Seen(seen))
            assert sorted(form.question_ids) == ["safety-cord-3", "safety-cord-4"]

    def test_a_question_comes_back_when_nothing_else_is_left(self) -> None:
        bank = [a_question("one"), a_question("two")]
        form = draw_again(bank, ["cord"], Random(1), Seen({"one": 1}))
        assert sorted(form.question_ids) == ["one", "two"]

    def test_questions_that_give_each_other_away_are_not_asked_together(self) -> None:
        bank = [a_question("one", apart_from=("two",)), a_question("two"), a_question("three")]
        for seed in range(20):
            form = draw_again(bank, ["cord"], Random(seed), NEVER_SEEN)
            assert sorted(form.question_ids) in (["one", "three"], ["three", "two"])

    def test_an_objective_without_questions_is_named(self) -> None:
        with pytest.raises(TooFewQuestions, match="objective goggles has 0 questions"):
            draw_again([a_question()], ["goggles"], Random(1))
