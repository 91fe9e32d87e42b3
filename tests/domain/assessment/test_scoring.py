"""What each response earns; nothing a client sends can break the scoring."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from academy.domain.assessment.key import right_response
from academy.domain.assessment.scoring import (
    answered,
    marks,
    read_number,
    scenario_choices,
    share,
)
from academy.domain.curriculum.kinds import Interaction
from academy.domain.curriculum.questions import Question
from tests.support.course import a_question, a_question_of_each_kind, a_scenario

KINDS = {question.interaction: question for question in a_question_of_each_kind()}
SEVERAL = KINDS[Interaction.MULTIPLE_RESPONSE]
ORDER = KINDS[Interaction.ORDER]
MATCH = KINDS[Interaction.MATCH]
NUMBER = KINDS[Interaction.NUMERIC_ENTRY]
HOTSPOT = KINDS[Interaction.HOTSPOT]
SCENARIO = KINDS[Interaction.SCENARIO]

each_kind = pytest.mark.parametrize("question", a_question_of_each_kind(), ids=lambda q: q.id)


@each_kind
def test_the_right_response_earns_everything(question: Question) -> None:
    assert marks(question, right_response(question)) == 100
    assert answered(question, right_response(question))


@each_kind
def test_no_response_earns_nothing_and_is_no_answer(question: Question) -> None:
    nothings: tuple[object, ...] = (None, {}, [], "", 0, {"chosen": None}, {"something": "else"})
    for nothing in nothings:
        assert marks(question, nothing) == 0
        assert not answered(question, nothing)


@pytest.mark.parametrize(
    ("chosen", "earned"),
    [(1, 100), ("1", 100), ([1], 100), (["1"], 100), (2, 0), ([1, 2], 0), (True, 0), (1.0, 0),
     ("one", 0), (-1, 0), ("", 0), ("１", 0)],
    ids=repr,
)  # fmt: skip
def test_a_choice_is_one_option(chosen: object, earned: int) -> None:
    assert marks(a_question(), {"chosen": chosen}) == earned


def test_an_option_of_a_choice_earns_what_the_author_gave_it() -> None:
    partly = a_question(marks={1: 100, 2: 40})
    assert [marks(partly, {"chosen": option}) for option in (1, 2, 3, 9)] == [100, 40, 0, 0]


@pytest.mark.parametrize(
    ("chosen", "earned"),
    [
        ([1, 3], 100),
        ([3, 1, 3, 1], 100),
        ([1], 50),
        ([1, 2], 0),
        ([1, 2, 3], 50),
        ([1, 2, 3, 4], 0),
        ([2, 4], 0),
        ([1, 3, 77], 100),
    ],
)
def test_a_wrong_option_takes_back_what_a_right_one_gave(chosen: list[int], earned: int) -> None:
    assert marks(SEVERAL, {"chosen": chosen}) == earned


def test_given_marks_add_up_and_are_clamped() -> None:
    weighed = replace(SEVERAL, marks={1: 70, 3: 60, 2: -40})
    assert marks(weighed, {"chosen": [1, 3]}) == 100
    assert marks(weighed, {"chosen": [1, 2]}) == 30
    assert marks(weighed, {"chosen": [2]}) == 0


@pytest.mark.parametrize(
    ("order", "earned"),
    [
        ([2, 1, 4, 3], 100),
        (["2", "1", "4", "3"], 100),
        ([2, 1, 3, 4], 50),
        ([1, 2, 3, 4], 0),
        ([2, 1, 4], 0),
        ([2, 2, 4, 3], 0),
        ([2, 1, 4, 3, 3], 0),
    ],
)
def test_an_order_earns_a_share_for_each_place(order: list[object], earned: int) -> None:
    assert marks(ORDER, {"order": order}) == earned


@pytest.mark.parametrize(
    ("pairs", "earned"),
    [
        ({"1": 3, "2": 1}, 100),
        ({"1": "3", "2": "1"}, 100),
        ({"1": 3}, 50),
        ({"1": 3, "2": 3}, 50),
        ({"1": 1, "2": 3}, 0),
        ({"1": 3, "2": 1, "9": 2}, 100),
    ],
)
def test_a_match_earns_a_share_for_each_pair(pairs: dict[str, object], earned: int) -> None:
    assert marks(MATCH, {"pairs": pairs}) == earned


@pytest.mark.parametrize(
    ("value", "earned"),
    [
        ("2.4", 100),
        ("2,4", 100),
        (" 2.40 ", 100),
        pytest.param(2.4, 100, id="a number, not text"),
        ("2.3", 100),
        ("2.5", 100),
        ("2.29", 0),
        ("2.5000001", 0),
        ("-2.4", 0),
        ("2.4 um", 0),
        ("nan", 0),
        ("inf", 0),
        ("1e999999999", 0),
        ("-1e999999", 0),
        ("1e-999999999", 0),
        pytest.param(10**5000, 0, id="longer than Python prints"),
        (True, 0),
        ([2.4], 0),
    ],
)
def test_a_number_is_right_within_its_tolerance(value: object, earned: int) -> None:
    assert marks(NUMBER, {"value": value}) == earned


def test_a_region_that_is_not_on_the_figure_counts_for_nothing() -> None:
    assert marks(HOTSPOT, {"chosen": [2]}) == 100
    assert marks(HOTSPOT, {"chosen": [2, 9]}) == 100
    assert marks(HOTSPOT, {"chosen": [1]}) == 0


@pytest.mark.parametrize(
    ("choices", "earned", "ended"),
    [
        ({"first": 1, "second": 2}, 100, True),
        ({"first": 2, "second": 2}, 40, True),
        ({"first": 1, "second": 1}, 40, True),
        ({"first": 2, "second": 1}, 0, True),
        ({"first": 1}, 60, False),
        ({"second": 2}, 0, False),
        ({"first": 9, "second": 2}, 0, False),
        ({"first": [1, 2], "second": 2}, 0, False),
    ],
)
def test_a_scenario_earns_what_its_decisions_earn(
    choices: dict[str, object], earned: int, ended: bool
) -> None:
    assert marks(SCENARIO, {"choices": choices}) == earned
    assert answered(SCENARIO, {"choices": choices}) is ended


def test_the_choices_so_far_are_read_and_nonsense_among_them_is_not() -> None:
    assert scenario_choices({"choices": {"first": "1", "second": "x", "third": None}}) == {
        "first": 1
    }
    assert scenario_choices("choices") == {}


def test_parts_of_a_question_round_down_and_all_of_them_are_the_whole() -> None:
    assert [share(100, parts, 3) for parts in range(4)] == [0, 33, 66, 100]
    assert share(100, 1, 0) == 0


@pytest.mark.parametrize(
    ("text", "number"),
    [("1,5", Decimal("1.5")), ("1.5", Decimal("1.5")), ("", None), ("1,000.5", None), (None, None)],
)
def test_a_typed_number_has_a_comma_or_a_point(text: object, number: Decimal | None) -> None:
    assert read_number(text) == number


# Whatever JSON can say, and what Python could hand over besides.
anything = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=8) | st.decimals(),
    lambda inner: (
        st.lists(inner, max_size=5)
        | st.dictionaries(st.text(max_size=6) | st.integers(), inner, max_size=5)
    ),
    max_leaves=12,
)
small = st.integers(-1, 5) | st.sampled_from(["1", "2", "3", "x", ""])
nearly_right = st.fixed_dictionaries(
    {},
    optional={
        "chosen": st.lists(small, max_size=6) | small | anything,
        "order": st.lists(small, max_size=6) | anything,
        "pairs": st.dictionaries(small.map(str), small, max_size=4) | anything,
        "value": st.text("0123456789.,eE+-", max_size=14) | anything,
        "choices": st.dictionaries(st.sampled_from(["first", "second", "third"]), small | anything)
        | anything,
    },
)


@each_kind
@given(response=anything | nearly_right)
def test_no_response_breaks_the_scoring(question: Question, response: Any) -> None:
    earned = marks(question, response)
    assert type(earned) is int
    assert 0 <= earned <= 100
    assert answered(question, response) in (True, False)


@given(response=nearly_right, order=st.permutations(range(4)), data=st.data())
def test_a_score_never_depends_on_the_order_of_the_options(
    response: Any, order: list[int], data: st.DataObject
) -> None:
    question = data.draw(st.sampled_from(a_question_of_each_kind()))
    mixed = replace(
        question,
        options=tuple(question.options[i] for i in order if i < len(question.options)),
        partners=tuple(question.partners[i] for i in order if i < len(question.partners)),
        regions=tuple(question.regions[i] for i in order if i < len(question.regions)),
    )
    assert marks(mixed, response) == marks(question, response)


def test_a_scenario_that_leads_in_a_circle_still_ends() -> None:
    first, second = a_scenario().decisions
    round_and_round = replace(second, effects={2: replace(second.effects[2], follows="first")})
    circle = a_scenario(decisions=(first, round_and_round))
    assert marks(circle, {"choices": {"first": 1, "second": 2}}) == 100
