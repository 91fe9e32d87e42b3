"""Calculations on responses, decisions and raters: keys, nulls with reasons, refusals."""

from __future__ import annotations

import json
from typing import Any

import pytest

from academy.calculations import BadInput, NotComputable, run
from tests.reference.rated_data import lsat6_dense, lsat6_rows

KEYS = {
    "item-statistics": "share_right item_rest alpha alpha_if_deleted sem mean sd",
    "distractors": "counts option_rest flags",
    "one-parameter": "a d b log_likelihood persons items at_limit variance",
    "two-parameter": "a d b log_likelihood persons items at_limit",
    "ability": "eap sd",
    "decision-consistency": "kr21 p kappa pass_rate",
    "agreement": "krippendorff_alpha observed_agreement kappa kappa_linear kappa_quadratic icc",
}
RESPONSES = [[1, 0, 1, 1], [1, 1, 1, 0], [0, 0, 1, 0], [1, 1, 0, 1], [0, 0, 0, 0], [1, 1, 1, 1]]
EXAMPLES: dict[str, dict[str, Any]] = {
    "item-statistics": {"responses": RESPONSES},
    "distractors": {"choices": [["a", 2], ["b", 1], ["a", 2], ["", None]], "keys": ["a", 2]},
    "one-parameter": {"responses": RESPONSES},
    "two-parameter": {"responses": RESPONSES, "slope_log_sd": 0.5},
    "ability": {"a": [1.0, 1.2], "d": [0.5, -0.5], "responses": [1, 0]},
    "decision-consistency": {"items": 6, "mean": 4, "variance": 2, "cut": 4},
    "agreement": {"ratings": [[1, 2, 3, 3], [1, 2, 2, 3]], "scale": "ordinal"},
}


def result(name: str, **inputs: object) -> dict[str, Any]:
    """Return a result as it comes out of JSON."""
    answer: dict[str, Any] = json.loads(json.dumps(run(name, inputs).result, allow_nan=False))
    return answer


@pytest.mark.parametrize("name", KEYS)
def test_the_result_has_its_keys_and_the_inputs_give_it_again(name: str) -> None:
    answer = run(name, EXAMPLES[name])
    assert set(KEYS[name].split()) <= set(answer.result)
    assert answer.formula
    assert answer.source
    assert answer.caution
    echoed = json.loads(json.dumps(answer.inputs))
    assert run(name, echoed) == answer


def test_patterns_and_persons_give_the_same_model() -> None:
    rows, counts = lsat6_rows()
    patterns = [[row, count] for row, count in zip(rows, counts, strict=True)]
    for name in ("one-parameter", "two-parameter"):
        by_pattern = result(name, patterns=patterns)
        assert by_pattern == result(name, responses=lsat6_dense().tolist())
        assert by_pattern["persons"] == 1000
        assert by_pattern["items"] == 5


@pytest.mark.parametrize("nodes", [21, 41, 121])
def test_the_number_of_nodes_does_not_decide(nodes: int) -> None:
    rows, counts = lsat6_rows()
    patterns = [[row, count] for row, count in zip(rows, counts, strict=True)]
    found = result("two-parameter", patterns=patterns, nodes=nodes)
    assert found["log_likelihood"] == pytest.approx(-2466.6534, abs=1e-4)


def test_what_does_not_exist_is_null_with_a_reason() -> None:
    incomplete = result("item-statistics", responses=[[1, 0, None], [0, 1, 1], [1, 1, 0]])
    assert [incomplete[key] for key in ("alpha", "alpha_if_deleted", "sem")] == [None] * 3
    assert incomplete["reason"] == "not everybody was asked the same questions"
    assert result("item-statistics", responses=RESPONSES)["reason"] is None
    equal = result("agreement", ratings=[[1, 1], [1, 1]], scale="ratio")
    assert equal["krippendorff_alpha"] is None
    assert "every rating was the same" in equal["reason"]


def test_a_question_all_answered_alike_is_null_and_at_its_limit() -> None:
    found = result("one-parameter", responses=[[*row, 1] for row in RESPONSES])
    assert found["d"][4] is None
    assert found["b"][4] is None
    assert found["at_limit"] == [4]
    assert found["log_likelihood"] == pytest.approx(
        result("one-parameter", responses=RESPONSES)["log_likelihood"]
    )


def test_one_slope_may_stand_for_all_questions() -> None:
    several = result("ability", a=[1.2, 1.2], d=[0, 1], responses=[1, None])
    assert result("ability", a=1.2, d=[0, 1], responses=[1, None]) == several


def test_words_may_be_rated_on_a_nominal_scale() -> None:
    words = result(
        "agreement", ratings=[["pass", "fail", None], ["pass", "pass", "fail"]], scale="nominal"
    )
    codes = result("agreement", ratings=[[2, 1, None], [2, 2, 1]], scale="nominal")
    assert words["krippendorff_alpha"] == codes["krippendorff_alpha"]
    assert words["kappa"] == codes["kappa"]
    assert words["icc"] is None


def test_a_longer_form_stands_beside_the_form() -> None:
    found = result("decision-consistency", items=6, mean=4, variance=2, cut=4, times=3)
    assert found["longer"]["items"] == 18
    assert found["longer"]["kr21"] == pytest.approx(18 / 27)
    assert found["longer"]["p"] > found["p"]


REFUSED: list[tuple[str, dict[str, object], str]] = [
    ("item-statistics", {"responses": [[1, 2]]}, "responses[0][1]: 2 is not at most 1"),
    ("item-statistics", {"responses": [[1, 0], [1]]}, "responses[1]: 1 given; 2 needed"),
    ("item-statistics", {"responses": []}, "responses: 0 given; at least 1 needed"),
    ("one-parameter", {}, "responses: give either responses or patterns"),
    ("one-parameter", {"patterns": [[[1, 0], 0]]}, "patterns: no pattern was given by anybody"),
    ("one-parameter", {"patterns": [[[1, 0], -1]]}, "-1 is not at least 0"),
    ("two-parameter", {"responses": RESPONSES, "slope_log_sd": 0}, "slope_log_sd: 0 is not"),
    ("distractors", {"choices": [["a"]], "keys": ["a", "b"]}, "choices[0]: 1 given; 2 needed"),
    ("ability", {"a": [1, 1], "d": [0], "responses": [1]}, "a: 2 given; 1 needed"),
    ("decision-consistency", {"items": 6, "mean": 4, "variance": 9, "cut": 4}, "variance: 9 is not at most"),
    ("decision-consistency", {"items": 6, "mean": 4, "variance": 2, "cut": 7}, "cut: 7 is not at most items"),
    ("agreement", {"ratings": [[1, 2]], "scale": "nominal"}, "ratings: 1 given; at least 2 needed"),
    ("agreement", {"ratings": [[1, "x"], [1, 2]], "scale": "nominal"}, "words and numbers are mixed"),
    ("agreement", {"ratings": [["x"], ["x"]], "scale": "ordinal"}, "a word has no place"),
    ("agreement", {"ratings": [[-1], [1]], "scale": "ratio"}, "ratings[0][0]: -1 is not at least 0"),
    ("agreement", {"ratings": [[1], [True]], "scale": "ordinal"}, "ratings[1][0]: true is not"),
    ("agreement", {"ratings": [[1], [5]], "scale": "ordinal", "categories": [1, 2]}, "5 is not one of categories"),
]  # fmt: skip


@pytest.mark.parametrize(("name", "inputs", "sentence"), REFUSED)
def test_bad_input_is_named_in_one_line(
    name: str, inputs: dict[str, object], sentence: str
) -> None:
    with pytest.raises(BadInput) as refused:
        run(name, inputs)
    assert sentence in str(refused.value)


@pytest.mark.parametrize(
    ("name", "inputs"),
    [
        ("item-statistics", {"responses": [[None]]}),
        ("one-parameter", {"responses": [[1, 0], [0, 1]]}),
        ("two-parameter", {"responses": [[1, 1], [0, 0]]}),
        ("decision-consistency", {"items": 6, "mean": 4, "variance": 1, "cut": 4}),
        ("agreement", {"ratings": [[1, None], [None, 1]], "scale": "ordinal"}),
    ],
)
def test_what_cannot_be_computed_is_said_in_a_sentence(
    name: str, inputs: dict[str, object]
) -> None:
    with pytest.raises(NotComputable) as refused:
        run(name, inputs)
    assert len(str(refused.value)) > 20
