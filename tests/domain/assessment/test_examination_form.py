"""An examination's form always meets its rule, or says which objective lacks questions."""

from __future__ import annotations

from collections import Counter
from random import Random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from academy.domain.assessment.examination import (
    Clock,
    draw_examination,
    near_the_cut,
    passed_with_spoken,
    standard_error_points,
)
from academy.domain.assessment.forms import Form, FormQuestion, TooFewQuestions
from academy.domain.assessment.results import result_of
from academy.domain.curriculum.course import Module
from academy.domain.curriculum.schemes import ExaminationRule
from tests.support.clock import NOW, later
from tests.support.course import a_blueprint, a_module, a_question, an_objective

MODULE_IDS = ("one", "two", "three")


def a_bank(module_id: str, sizes: dict[str, int], must_know: set[str]) -> Module:
    """Return a module with so many questions of each objective."""
    return a_module(
        module_id,
        objectives=tuple(
            an_objective(f"{module_id}-{name}", must_know=name in must_know, module_id=module_id)
            for name in sizes
        ),
        questions=tuple(
            a_question(
                f"{module_id}-{name}-{n}", objective_id=f"{module_id}-{name}", module_id=module_id
            )
            for name, size in sizes.items()
            for n in range(size)
        ),
        blueprint=a_blueprint({f"{module_id}-{name}": 1 for name in sizes}),
    )


banks = st.lists(
    st.tuples(
        st.dictionaries(st.sampled_from("abcdef"), st.integers(0, 4), min_size=1),
        st.sets(st.sampled_from("abcdef")),
    ),
    min_size=1,
    max_size=3,
)


@given(banks, st.integers(0, 4), st.integers(0, 2**32))
def test_every_form_meets_its_rule_or_names_the_objective(
    drawn: list[tuple[dict[str, int], set[str]]], others: int, seed: int
) -> None:
    """Each must-know objective once, so many others of each module, no question twice."""
    modules = [
        a_bank(name, sizes, must) for name, (sizes, must) in zip(MODULE_IDS, drawn, strict=False)
    ]
    rule = ExaminationRule(40, others, 7)
    lacking = {
        objective.id
        for module in modules
        for objective in module.objectives
        if not any(q.objective_id == objective.id for q in module.questions)
    }
    refused: TooFewQuestions | None = None
    try:
        form = draw_examination(modules, rule, Random(seed), {})
    except TooFewQuestions as refusal:
        refused = refusal
    if refused is not None:
        assert refused.objective_id in lacking
        assert refused.objective_id in str(refused)
        return
    asked = Counter(item.question.objective_id for item in form.questions)
    assert set(asked.values()) <= {1}
    assert len(set(form.question_ids)) == len(form.question_ids)
    for module in modules:
        must = {objective.id for objective in module.must_know}
        of_module = {o.id for o in module.objectives} & asked.keys()
        assert must <= of_module
        assert len(of_module - must) == min(others, len(module.objectives) - len(must))


@given(st.integers(0, 2**32))
def test_what_was_seen_least_is_asked_first(seed: int) -> None:
    """Where one question of an objective was never seen, it is the one drawn."""
    module = a_bank("one", {"a": 3, "b": 3}, {"a", "b"})
    seen = {q.id: 1 for q in module.questions if not q.id.endswith("-2")}
    form = draw_examination([module], ExaminationRule(40, 0, 7), Random(seed), seen)
    assert set(form.question_ids) == {"one-a-2", "one-b-2"}


@pytest.mark.parametrize(
    ("extra", "minutes", "over"), [(0, 40, False), (0, 40.1, True), (50, 60, False), (50, 61, True)]
)
def test_the_last_moment_still_counts(extra: int, minutes: float, over: bool) -> None:
    assert Clock(NOW, 40, extra).over(later(minutes=minutes)) is over


def _form(count: int) -> Form:
    return Form(tuple(FormQuestion(a_question(f"q-{n}"), (1, 2, 3, 4)) for n in range(count)))


@pytest.mark.parametrize("right", range(21))
def test_near_the_mark_is_one_standard_error_either_way(right: int) -> None:
    """Twenty questions at 70 percent: √(20 × 70 × 30) = 205 points round the cut of 1400."""
    form = _form(20)
    assert standard_error_points(form) == pytest.approx(204.94, abs=0.01)
    given_answers = {f"q-{n}": {"chosen": 1} for n in range(right)}
    result = result_of(form, given_answers, ())
    assert near_the_cut(result, form) is (12 <= right <= 16)


@pytest.mark.parametrize(
    ("satisfactory", "passed"),
    [((True, True, True), True), ((True, True, False), True), ((True, False, False), False)],
)
def test_two_of_three_spoken_answers_pass(satisfactory: tuple[bool, ...], passed: bool) -> None:
    result = result_of(_form(4), {}, ())
    assert passed_with_spoken(result, satisfactory) is passed


def test_talking_never_makes_up_for_what_must_be_known() -> None:
    result = result_of(_form(4), {"q-0": {"chosen": 1}}, {"cord"})
    assert not passed_with_spoken(result, (True, True, True))
