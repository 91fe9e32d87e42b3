"""What a record keeps can be read, shown and scored without the course."""

from __future__ import annotations

import json
from types import MappingProxyType

import pytest
import rfc8785

from academy.domain.curriculum.frozen import (
    NotFrozen,
    frozen_question,
    frozen_scheme,
    frozen_task,
    question_from_frozen,
    scheme_from_frozen,
    task_from_frozen,
)
from academy.domain.curriculum.kinds import Interaction, Substrate, Supervision
from academy.domain.curriculum.questions import Effect, Question, Region
from academy.domain.curriculum.scenario import best_path
from academy.domain.curriculum.schemes import Requirement, Scheme
from academy.domain.curriculum.tasks import Criterion, PracticalTask
from tests.domain.curriculum.parts import a_decision, a_question, a_scenario

NUMERIC = a_question(
    "mix", interaction=Interaction.NUMERIC_ENTRY, key=(), key_value=9.09, unit="percent", tolerance=0.05
)  # fmt: skip
MATCH = a_question(
    "match", interaction=Interaction.MATCH, key=(), key_pairs=MappingProxyType({1: 2, 2: 1})
)
HOTSPOT = a_question(
    "spot", interaction=Interaction.HOTSPOT, regions=(Region(1, "top", 0.5, 0.0, 50.0, 50.0),)
)
PARTIAL = a_question("part", marks=MappingProxyType({1: 100, 2: 40}), apart_from=("other",))
SCENARIO = a_scenario(
    [
        a_decision("first", 1, {1: Effect(50, removed_um=0.1, follows="last"), 2: Effect(0)}),
        a_decision("last", 1, {1: Effect(50, finish="clear"), 2: Effect(-20, warms_k=35.5)}),
    ]
)
TASK = PracticalTask(
    id="polish",
    title="Polish one section",
    kind_of_work="polishing",
    objectives=("cord",),
    cautions=("rotating-pad",),
    spots=5,
    readings_per_spot=3,
    limit_um=3.0,
    criteria=(Criterion("within", "Within the limit", True, True),),
    set_up_checks=("Eye protection is on",),
    minutes=45,
    body_html="<p>Polish.</p>",
    digest="d",
    substrates=(Substrate.STEEL,),
)
SCHEME = Scheme(
    id="polishing",
    version=2,
    kind_of_work="polishing",
    title="Polishing",
    requirements=(
        Requirement(Supervision.BESIDE, ("safety",), MappingProxyType({})),
        Requirement(Supervision.ALONE, (), MappingProxyType({"polish": 3})),
    ),
    term_months=12,
    body_html="",
    digest="d",
)


@pytest.mark.parametrize(
    "question",
    [a_question(), NUMERIC, MATCH, HOTSPOT, PARTIAL, SCENARIO],
    ids=lambda question: question.id,
)
def test_a_question_comes_back_as_it_was_asked(question: Question) -> None:
    stored = json.loads(rfc8785.dumps(frozen_question(question)))
    assert question_from_frozen(stored) == question


def test_a_stored_scenario_can_still_be_scored() -> None:
    stored = json.loads(json.dumps(frozen_question(SCENARIO)))
    path = best_path(question_from_frozen(stored))
    assert path.marks_percent == 100
    assert path.panel.thickness_um == 111.9


def test_numbers_with_a_fraction_are_kept_as_decimal_text() -> None:
    stored = frozen_question(NUMERIC)["question"]
    assert stored["key_value"] == "9.09"
    assert stored["rating_percent"] == 70


def test_a_task_and_a_scheme_come_back() -> None:
    assert task_from_frozen(json.loads(rfc8785.dumps(frozen_task(TASK)))) == TASK
    assert scheme_from_frozen(json.loads(rfc8785.dumps(frozen_scheme(SCHEME)))) == SCHEME


def test_a_field_added_later_takes_its_default_and_a_dropped_one_is_passed_over() -> None:
    stored = frozen_question(PARTIAL)
    del stored["question"]["apart_from"]
    stored["question"]["colour_of_ink"] = "black"
    assert question_from_frozen(stored).apart_from == ()


@pytest.mark.parametrize(
    "broken",
    [
        {},
        {"kind": "question", "format": 99, "question": {}},
        {"kind": "question", "format": 1},
        {"kind": "question", "format": 1, "question": {"id": "x"}},
        {"kind": "question", "format": 1, "question": None},
        frozen_task(TASK),
    ],
)
def test_anything_else_is_refused_with_a_sentence(broken: dict[str, object]) -> None:
    with pytest.raises(NotFrozen, match="the stored question cannot be read"):
        question_from_frozen(broken)


def test_a_wrong_type_is_refused() -> None:
    stored = frozen_question(PARTIAL)
    stored["question"]["rating_percent"] = "seventy"
    with pytest.raises(NotFrozen, match="seventy"):
        question_from_frozen(stored)
