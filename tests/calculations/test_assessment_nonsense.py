"""Whatever stands in the tables of answers and ratings: a finite answer, or a sentence; never a crash."""

from __future__ import annotations

import json
import warnings
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from academy.calculations import BadInput, NotComputable, run

MARK = st.sampled_from([0, 1, 1, None])


def answered(name: str, inputs: dict[str, Any]) -> dict[str, Any] | None:
    """Return the result, or None where a sentence says why there is none; JSON has no NaN."""
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        try:
            found = run(name, inputs)
        except (BadInput, NotComputable) as refusal:
            says = str(refusal)
            assert says
            assert "Traceback" not in says
            assert "nan" not in says.lower().split()
            return None
    text = json.dumps(found.as_json_object(), allow_nan=False)
    result: dict[str, Any] = json.loads(text)["result"]
    return result


def tables(cells: st.SearchStrategy[Any], most: int = 7) -> st.SearchStrategy[list[list[Any]]]:
    """Return rectangular tables."""
    return st.integers(1, most).flatmap(
        lambda width: st.lists(
            st.lists(cells, min_size=width, max_size=width), min_size=1, max_size=most
        )
    )


@given(tables(MARK))
def test_any_responses(responses: list[list[int | None]]) -> None:
    found = answered("item-statistics", {"responses": responses})
    if found is not None:
        for share in found["share_right"]:
            assert share is None or 0 <= share <= 1
        for r in found["item_rest"]:
            assert r is None or -1 - 1e-9 <= r <= 1 + 1e-9


@settings(max_examples=40)
@given(tables(MARK), st.sampled_from(["one-parameter", "two-parameter"]))
def test_any_responses_to_a_model(responses: list[list[int | None]], name: str) -> None:
    answered(name, {"responses": responses, "nodes": 21})


@settings(max_examples=30)
@given(
    tables(MARK),
    st.lists(st.integers(0, 3), min_size=7, max_size=7),
    st.sampled_from(["one-parameter", "two-parameter"]),
    st.sampled_from([None, 0.5]),
)
def test_any_patterns(
    rows: list[list[int | None]], counts: list[int], name: str, prior: float | None
) -> None:
    patterns = [[row, count] for row, count in zip(rows, counts, strict=False)]
    answered(name, {"patterns": patterns, "nodes": 21, "slope_log_sd": prior})


@given(tables(st.sampled_from(["a", "b", "c", "", None]), most=6), st.data())
def test_any_choices(choices: list[list[str | None]], data: st.DataObject) -> None:
    keys = [data.draw(st.sampled_from("abd")) for _ in choices[0]]
    answered("distractors", {"choices": choices, "keys": keys})


@given(
    tables(st.sampled_from([0, 1, 2, 50, 100, None])),
    st.sampled_from(["nominal", "ordinal", "interval", "ratio"]),
)
def test_any_ratings(ratings: list[list[float | None]], scale: str) -> None:
    found = answered("agreement", {"ratings": ratings, "scale": scale})
    if found is not None:
        assert 0 <= found["observed_agreement"] <= 1 + 1e-12
        assert found["in_words"]


@given(tables(st.integers(0, 100)), st.lists(st.integers(-1, 7), max_size=4))
def test_any_judges(ratings: list[list[int]], form: list[int]) -> None:
    found = answered("cut-score", {"ratings": ratings, "form": form})
    if found is not None:
        assert 0 <= found["cut"] <= len(form)


@given(st.integers(2, 60), st.floats(0, 60), st.floats(0, 900, exclude_min=True), st.floats(0, 60))
def test_any_scores(items: int, mean: float, variance: float, cut: float) -> None:
    given_ = {"items": items, "mean": mean, "variance": variance, "cut": cut}
    found = answered("decision-consistency", given_)
    if found is not None:
        for name in ("p", "pass_rate", "false_pass", "false_fail"):
            assert -1e-9 <= found[name] <= 1 + 1e-9, name


@given(st.integers(0, 10**6), st.integers(0, 10**6), st.floats(0.5, 0.9999))
def test_any_proportion(passed: int, tried: int, confidence: float) -> None:
    found = answered("proportion", {"passed": passed, "tried": tried, "confidence": confidence})
    if found is not None:
        for name in ("wilson", "clopper_pearson", "jeffreys"):
            lower, upper = found[name]
            assert 0 <= lower <= passed / tried <= upper <= 1


@given(st.lists(MARK, min_size=1, max_size=6), st.floats(-50, 50), st.floats(-100, 100))
def test_any_ability(responses: list[int | None], a: float, d: float) -> None:
    inputs = {"a": [a], "d": [d] * len(responses), "responses": responses}
    found = answered("ability", inputs)
    if found is not None:
        assert found["sd"] >= 0


def test_a_question_foreseen_far_too_easy_is_led_back() -> None:
    """Found by chance: six persons whose abilities lie as far apart as the model allows."""
    rows = [[0, 1, 1, 0, 1, 0], [0, 1, 1, 0, 1, None], [0, 1, 1, 1, 1, None], *[[1] * 6] * 3]
    coarse = answered("one-parameter", {"responses": rows, "nodes": 21})
    fine = answered("one-parameter", {"responses": rows, "nodes": 61})
    assert coarse is not None
    assert fine is not None
    assert coarse["a"] == fine["a"] == 5


@pytest.mark.parametrize(
    ("name", "inputs", "computable"),
    [
        pytest.param("item-statistics", {"responses": [[1]]}, True, id="one person, one question"),
        pytest.param("item-statistics", {"responses": [[1, 1], [1, 1]]}, True, id="all right"),
        pytest.param("item-statistics", {"responses": [[0, 0], [0, 0]]}, True, id="all wrong"),
        pytest.param("item-statistics", {"responses": [[None, 1], [None, 0]]}, True, id="never presented"),
        pytest.param("item-statistics", {"responses": [[None], [None]]}, False, id="nothing presented"),
        pytest.param("one-parameter", {"responses": [[1, 1], [1, 1]]}, False, id="model, all right"),
        pytest.param("two-parameter", {"responses": [[0, 0], [0, 0]]}, False, id="model, all wrong"),
        pytest.param("one-parameter", {"responses": [[1], [0]]}, False, id="model, one question"),
        pytest.param("one-parameter", {"responses": [[1, 0], [0, 1]]}, False, id="model, abilities alike"),
        pytest.param("one-parameter", {"responses": [[None, None]]}, False, id="model, nothing presented"),
        pytest.param("ability", {"a": [1], "d": [0, 0], "responses": [1, 1]}, True, id="ability, all right"),
        pytest.param("ability", {"a": [1], "d": [0, 0], "responses": [None, None]}, True, id="ability, not asked"),
        pytest.param("distractors", {"choices": [[None]], "keys": ["a"]}, True, id="options, not presented"),
        pytest.param("distractors", {"choices": [[""]], "keys": ["a"]}, True, id="options, all blank"),
        pytest.param("agreement", {"ratings": [[1, 2]], "scale": "nominal"}, False, id="one rater"),
        pytest.param("agreement", {"ratings": [[1, 2], [1, 2]], "scale": "interval"}, True, id="in full agreement"),
        pytest.param("agreement", {"ratings": [[5, 5], [5, 5]], "scale": "ratio"}, True, id="always the same rating"),
        pytest.param("agreement", {"ratings": [[1, None], [None, 1]], "scale": "ordinal"}, False, id="never the same subject"),
        pytest.param("agreement", {"ratings": [[None], [None]], "scale": "ordinal"}, False, id="nothing rated"),
        pytest.param("cut-score", {"ratings": [[70]]}, True, id="one judge, one question"),
        pytest.param("cut-score", {"ratings": [[0, 100], [0, 100]]}, True, id="judges alike"),
        pytest.param("decision-consistency", {"items": 10, "mean": 10, "variance": 1, "cut": 5}, False, id="all with full marks"),
        pytest.param("decision-consistency", {"items": 10, "mean": 5, "variance": 25, "cut": 5}, False, id="all or nothing"),
        pytest.param("decision-consistency", {"items": 10, "mean": 5, "variance": 1, "cut": 5}, False, id="less spread than luck"),
        pytest.param("proportion", {"passed": 0, "tried": 0}, False, id="nothing tried"),
        pytest.param("proportion", {"passed": 3, "tried": 3}, True, id="nothing but passes"),
        pytest.param("proportion", {"passed": 4, "tried": 3}, False, id="more than tried"),
    ],
)  # fmt: skip
def test_the_edges(name: str, inputs: dict[str, Any], computable: bool) -> None:
    assert (answered(name, inputs) is not None) is computable
