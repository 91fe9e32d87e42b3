"""What answers say about questions: counts, correlations, and who took which option."""

from __future__ import annotations

from random import Random

import numpy as np
import pytest

from academy.domain.assessment.answer_parts import parts_of, parts_taken
from academy.domain.assessment.item_statistics import item_statistics
from academy.domain.assessment.key import right_response
from academy.domain.assessment.option_statistics import option_tables
from academy.domain.assessment.question_evidence import (
    CountedAnswers,
    evidence_of,
    fisher_interval,
)
from academy.domain.assessment.responses import responses_of
from academy.domain.assessment.wording_evidence import PartTaken, abler_by, others_than
from academy.domain.curriculum.questions import Question
from tests.support.course import a_question_of_each_kind

OPTIONS = {"1": True, "2": False, "3": False}


def counted(choices: list[list[str | None]]) -> CountedAnswers:
    """Return persons × questions of options taken as counted answers; "1" is right everywhere."""
    cells = [
        (row, item, taken)
        for row, given in enumerate(choices)
        for item, taken in enumerate(given)
        if taken is not None
    ]
    return CountedAnswers(
        sitting=np.array([row for row, _, _ in cells], dtype=np.intp),
        wording=np.array([item for _, item, _ in cells], dtype=np.intp),
        right=np.array([taken == "1" for *_, taken in cells]),
        parts=[frozenset({taken} if taken else ()) for *_, taken in cells],
        sittings=len(choices),
        wordings=len(choices[0]),
    )


def some_choices(persons: int = 60, items: int = 6) -> list[list[str | None]]:
    chance = Random(5)
    return [
        [chance.choice(["1", "1", "2", "3", "", None]) for _ in range(items)]
        for _ in range(persons)
    ]


def test_it_agrees_with_the_option_tables_on_the_same_answers() -> None:
    choices = some_choices()
    found = evidence_of(counted(choices), [OPTIONS] * 6)
    tables = option_tables(choices, ["1"] * 6, [list(OPTIONS)] * 6)
    for evidence, table in zip(found, tables, strict=True):
        assert evidence.answered == table.answered
        assert evidence.blank == table.counts[""]
        assert {part.name: part.taken for part in evidence.parts} == {
            name: table.counts[name] for name in OPTIONS
        }
        assert evidence.item_rest is not None
        assert evidence.item_rest.value == pytest.approx(table.option_rest["1"], abs=1e-12)


def test_blank_is_wrong_and_not_presented_is_missing() -> None:
    found = evidence_of(counted([["1", "1"], ["", "1"], [None, "2"]]), [OPTIONS] * 2)
    assert (found[0].answered, found[0].right, found[0].blank) == (2, 1, 1)
    assert found[1].answered == 3


def test_item_rest_of_a_table_with_gaps_is_the_plain_correlation() -> None:
    """Computed once more person by person, as the docstring says it."""
    chance = Random(11)
    rows = [[chance.choice([0, 1, 1, None]) for _ in range(7)] for _ in range(80)]
    found = item_statistics(responses_of(rows)).item_rest
    for item, r in enumerate(found):
        used = [row for row in rows if row[item] is not None]
        rest = [
            np.mean([x for n, x in enumerate(row) if n != item and x is not None]) for row in used
        ]
        assert r == pytest.approx(np.corrcoef([row[item] for row in used], rest)[0, 1], abs=1e-12)


def test_those_who_left_a_part_are_the_rest_of_those_asked() -> None:
    """Mean and spread of the others, against the same people taken one by one."""
    answers = counted(some_choices())
    evidence = evidence_of(answers, [OPTIONS] * 6)[2]
    part = next(part for part in evidence.parts if part.name == "2")
    of_item = answers.wording == 2
    rest = answers.rest_shares()
    left = np.array(["2" not in taken for taken in answers.parts]) & of_item & ~np.isnan(rest)
    others = others_than(evidence, part)
    assert others.compared == left.sum()
    assert others.rest_mean == pytest.approx(rest[left].mean(), abs=1e-12)
    assert others.rest_sd == pytest.approx(rest[left].std(ddof=1), abs=1e-9)


def test_how_far_the_takers_of_one_option_lie_above_another() -> None:
    """Welch's quotient by hand: (0.8 − 0.6)/√(0.04/25 + 0.09/25)."""
    able = PartTaken("2", right=False, taken=25, compared=25, rest_mean=0.8, rest_sd=0.2)
    key = PartTaken("1", right=True, taken=25, compared=25, rest_mean=0.6, rest_sd=0.3)
    assert abler_by(able, key) == pytest.approx(0.2 / (0.13 / 25) ** 0.5)
    few = PartTaken("2", right=False, taken=4, compared=4, rest_mean=0.8, rest_sd=0.2)
    assert abler_by(few, key) is None


def test_a_correlation_of_three_persons_says_nothing() -> None:
    assert (fisher_interval(0.5, 3).lower, fisher_interval(0.5, 3).upper) == (-1, 1)


def test_the_interval_of_a_correlation() -> None:
    """r = 0.5, n = 28: tanh(0.5493 ∓ 0.392) = 0.156 to 0.736 (computed by hand)."""
    found = fisher_interval(0.5, 28)
    assert (found.lower, found.upper) == pytest.approx((0.156, 0.7356), abs=5e-4)


@pytest.mark.parametrize("question", a_question_of_each_kind(), ids=lambda q: q.id)
def test_the_right_answer_holds_every_right_part_and_no_other(question: Question) -> None:
    right = {part.name for part in parts_of(question) if part.right}
    assert parts_taken(question, right_response(question)) == right


@pytest.mark.parametrize("question", a_question_of_each_kind(), ids=lambda q: q.id)
@pytest.mark.parametrize("response", [None, {}, "words", {"chosen": None}, {"value": "much"}])
def test_a_blank_or_broken_answer_holds_nothing(question: Question, response: object) -> None:
    assert parts_taken(question, response) == frozenset()


def test_a_number_typed_is_kept_as_it_was_meant() -> None:
    number = next(q for q in a_question_of_each_kind() if q.id == "number")
    assert parts_taken(number, {"value": "24,0"}) == {"24"}
    assert parts_taken(number, {"value": "2.45"}) == {"right"}
