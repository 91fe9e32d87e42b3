"""A form is drawn whenever there is one, and two sittings share only what the blueprint forces."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from itertools import combinations, product
from random import Random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from academy.domain.assessment.drawing import TooFewQuestions, draw_again, draw_form
from academy.domain.assessment.forms import Form
from academy.domain.assessment.least_seen import NEVER_SEEN, Seen, give_each_other_away
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


def drawn(bank: list[Question], blueprint: Blueprint, seed: int, seen: Seen = NEVER_SEEN) -> Form:
    """Draw a form by a seed."""
    return draw_form(bank, blueprint, Random(seed), seen)


@given(banks(), blueprints, SEEDS)
def test_a_form_is_refused_only_when_no_choice_of_questions_makes_one(
    bank: list[Question], blueprint: Blueprint, seed: int
) -> None:
    if next(every_form(bank, blueprint), None) is not None:
        assert drawn(bank, blueprint, seed).questions
        return
    with pytest.raises(TooFewQuestions) as refusal:
        drawn(bank, blueprint, seed)
    lacking = refusal.value
    named = next(c for c in blueprint.cells if c.objective_id == lacking.objective_id)
    assert lacking.available < lacking.needed == named.questions


@st.composite
def what_was_seen(draw: st.DrawFn) -> Seen:
    """Draw what somebody has seen of a bank; most of it often, some of it on the last form."""
    numbers = st.integers(0, 8).map(lambda number: f"q{number}")
    return Seen(
        draw(st.dictionaries(numbers, st.integers(1, 4))),
        frozenset(draw(st.sets(numbers))),
        frozenset(draw(st.sets(numbers, max_size=3))),
    )


@given(banks(), blueprints, SEEDS, what_was_seen())
def test_a_form_has_the_least_of_the_last_one_and_then_was_seen_least_in_all(
    bank: list[Question], blueprint: Blueprint, seed: int, seen: Seen
) -> None:
    """Whatever is unsuited comes last of all; every form there is was tried beside it."""

    def against(names: Iterable[str]) -> tuple[int, int, int]:
        form = set(names)
        times = sum(seen.times.get(name, 0) for name in form)
        return len(form & seen.unsuited), len(form & seen.last_form), times

    least = min((against(q.id for q in form) for form in every_form(bank, blueprint)), default=None)
    if least is not None:
        assert against(drawn(bank, blueprint, seed, seen).question_ids) == least


@given(banks(), blueprints, SEEDS, st.dictionaries(st.integers(0, 8), st.integers(1, 4)))
def test_two_sittings_share_only_what_the_blueprint_forces(
    bank: list[Question], blueprint: Blueprint, seed: int, practised: dict[int, int]
) -> None:
    """However often practice has shown the other questions."""
    forms = [{q.id for q in form} for form in every_form(bank, blueprint)]
    if not forms:
        return
    first = frozenset(drawn(bank, blueprint, seed).question_ids)
    times = Counter(first)
    times.update({f"q{number}": count for number, count in practised.items()})
    second = drawn(bank, blueprint, seed + 1, Seen(times, first))
    assert len(first.intersection(second.question_ids)) == min(len(form & first) for form in forms)


@given(banks(), st.dictionaries(st.sampled_from(OBJECTIVES), st.just(2), min_size=1), SEEDS)
def test_what_is_asked_again_never_gives_itself_away(
    bank: list[Question], missed: dict[str, int], seed: int
) -> None:
    """As many of two each as can stand together, one of each at the least, or one is named."""
    lengths = [range(1, 1 + count) for count in missed.values()]
    most = max(
        (
            sum(length)
            for length in product(*lengths)
            if any(every_form(bank, a_blueprint(dict(zip(missed, length, strict=True)))))
        ),
        default=0,
    )
    if not most:
        with pytest.raises(TooFewQuestions):
            draw_again(bank, missed, Random(seed))
        return
    questions = [item.question for item in draw_again(bank, missed, Random(seed)).questions]
    assert len(questions) == most
    assert {question.objective_id for question in questions} == set(missed)
    assert not any(give_each_other_away(one, other) for one, other in combinations(questions, 2))


@given(SEEDS)
def test_a_less_seen_question_gives_way_to_two_that_it_shuts_out(seed: int) -> None:
    # nothing was seen but 'old': 'hub' would leave only 'old' beside it
    bank = [
        a_question("hub", apart_from=("left", "right")),
        a_question("left"),
        a_question("right"),
        a_question("old"),
    ]
    form = drawn(bank, a_blueprint({"cord": 2}), seed, Seen({"old": 1}))
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
        for name in drawn(bank, a_blueprint({"cord": 1, "goggles": 1}), seed).question_ids
    )
    # alone in a quarter of the forms, and in half of the quarter in which they would meet
    assert 100 < counted["cord"] < 200
    assert 100 < counted["goggles"] < 200
