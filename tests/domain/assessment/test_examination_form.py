"""An examination's form always meets its rule, or says which objective lacks questions."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from itertools import combinations, product
from random import Random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from academy.domain.assessment.drawing import TooFewQuestions
from academy.domain.assessment.examination import (
    Clock,
    draw_examination,
    examination_outcome,
    near_the_cut,
    standard_error_points,
)
from academy.domain.assessment.forms import Form, FormQuestion
from academy.domain.assessment.least_seen import Seen, give_each_other_away
from academy.domain.assessment.results import result_of
from academy.domain.assessment.voiding import form_without, result_without
from academy.domain.curriculum.course import Module
from academy.domain.curriculum.schemes import ExaminationRule
from tests.support.clock import NOW, later
from tests.support.course import a_blueprint, a_digest, a_module, a_question, an_objective

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
        form = draw_examination(modules, rule, Random(seed))
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
    form = draw_examination([module], ExaminationRule(40, 0, 7), Random(seed), Seen(seen))
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
    ("right", "satisfactory", "passed"),
    [
        pytest.param(20, (), True, id="well above the mark nothing is asked"),
        pytest.param(5, (), False, id="well below it nothing is asked either"),
        pytest.param(14, (), None, id="at the mark the three are asked"),
        pytest.param(15, (True, True), None, id="until all three are answered"),
        pytest.param(13, (True, True, True), True, id="three good answers"),
        pytest.param(13, (True, False, True), True, id="two good answers"),
        pytest.param(15, (True, False, False), False, id="one good answer"),
        pytest.param(5, (True, True, True), False, id="talking lifts nobody from far below"),
    ],
)
def test_the_outcome_of_an_examination(
    right: int, satisfactory: tuple[bool, ...], passed: bool | None
) -> None:
    form = _form(20)
    result = result_of(form, {f"q-{n}": {"chosen": 1} for n in range(right)}, ())
    assert examination_outcome(result, form, satisfactory) is passed


@pytest.mark.parametrize("right", [0, 14, 19])
def test_talking_never_makes_up_for_what_must_be_known(right: int) -> None:
    form = _form(20)
    result = result_of(form, {f"q-{n}": {"chosen": 1} for n in range(right)}, {"cord"})
    assert examination_outcome(result, form, (True, True, True)) is False


def test_what_must_be_known_and_was_voided_decides_nothing() -> None:
    """It was met in its module's quiz; one faulty question costs nobody an examination."""
    form = Form(
        (*_form(20).questions, FormQuestion(a_question("void", objective_id="stop"), (1, 2)))
    )
    answers = {f"q-{n}": {"chosen": 1} for n in range(20)} | {"void": {"chosen": 2}}
    assert examination_outcome(result_of(form, answers, {"stop"}), form) is False
    left = form_without(form, {a_digest("void")})
    result = result_without(form, answers, {"stop"}, {a_digest("void")})
    assert examination_outcome(result, left) is True


def test_an_examination_of_nothing_is_not_passed() -> None:
    assert examination_outcome(result_of(_form(0), {}, ()), _form(0), (True, True, True)) is False


@st.composite
def two_modules(draw: st.DrawFn) -> list[Module]:
    """Draw two small modules whose questions give one another away, in one module and across."""
    names = [f"{module}-{cell}-{n}" for module in "vw" for cell in "mxy" for n in range(2)]
    there = draw(st.sets(st.sampled_from(names), min_size=6))
    bank = [
        a_question(
            name,
            objective_id=name[:3],
            module_id=name[0],
            apart_from=tuple(draw(st.lists(st.sampled_from(names), max_size=2, unique=True))),
        )
        for name in sorted(there)
    ]
    return [
        a_module(
            module,
            objectives=tuple(
                an_objective(f"{module}-{cell}", must_know=cell == "m", module_id=module)
                for cell in "mxy"
            ),
            questions=tuple(q for q in bank if q.module_id == module),
            blueprint=a_blueprint({f"{module}-{cell}": 1 for cell in "mxy"}),
        )
        for module in "vw"
    ]


def every_examination(modules: list[Module], others: int) -> Iterator[frozenset[str]]:
    """Return every form that meets the rule, by trying all of them."""
    cells = {
        name: [q for m in modules for q in m.questions if q.objective_id == name]
        for name in (f"{module}-{cell}" for module in "vw" for cell in "mxy")
    }
    choices = [["v-m"], ["w-m"]]
    for picked in product(*(combinations([f"{m}-x", f"{m}-y"], others) for m in "vw")):
        names = [*choices[0], *choices[1], *(name for some in picked for name in some)]
        for questions in product(*(cells[name] for name in names)):
            if not any(give_each_other_away(*pair) for pair in combinations(questions, 2)):
                yield frozenset(question.id for question in questions)


@given(two_modules(), st.integers(0, 2), st.integers(0, 2**32))
def test_examinations_share_only_what_their_rule_forces_and_nothing_gives_itself_away(
    modules: list[Module], others: int, seed: int
) -> None:
    """Also across modules, and refused only where no choice of questions makes a form."""
    rule = ExaminationRule(40, others, 7)
    forms = set(every_examination(modules, others))
    if not forms:
        with pytest.raises(TooFewQuestions) as refusal:
            draw_examination(modules, rule, Random(seed))
        assert refusal.value.available < refusal.value.needed
        return
    first = frozenset(draw_examination(modules, rule, Random(seed)).question_ids)
    assert first in forms
    second = draw_examination(modules, rule, Random(seed + 1), Seen({}, first))
    shared = first.intersection(second.question_ids)
    assert frozenset(second.question_ids) in forms
    assert len(shared) == min(len(form & first) for form in forms)


def test_on_paper_a_situation_that_unfolds_is_drawn_only_where_nothing_else_is_left() -> None:
    module = a_bank("one", {"a": 3}, {"a"})
    seen = Seen({"one-a-1": 9}, frozenset({"one-a-1"}), frozenset({"one-a-0", "one-a-2"}))
    form = draw_examination([module], ExaminationRule(40, 0, 7), Random(3), seen)
    assert form.question_ids == ("one-a-1",)
