"""A scenario's panel changes with each decision, and its paths earn marks."""

from __future__ import annotations

import pytest

from academy.domain.curriculum.questions import Effect, PanelState
from academy.domain.curriculum.scenario import (
    best_path,
    changes_numbers,
    every_path,
    panel_after,
    path_taken,
)
from tests.domain.curriculum.parts import a_decision, a_scenario

FIRST = a_decision(
    "first",
    1,
    {
        1: Effect(50, removed_um=0.5, warms_k=8, takes_minutes=4, finish="haze", follows="second"),
        2: Effect(0, removed_um=2, warms_k=35, follows="second"),
        3: Effect(20, takes_minutes=4),
    },
)
SECOND = a_decision("second", 2, {1: Effect(-30, warms_k=10), 2: Effect(50), 3: Effect(0)})
SCENARIO = a_scenario([FIRST, SECOND])


def test_effects_add_up_in_their_order() -> None:
    panel = PanelState(thickness_um=112, temperature_c=24, finish="swirls", minutes=0)
    after = panel_after(
        panel,
        [Effect(0, removed_um=0.1, warms_k=8, takes_minutes=4), Effect(0, removed_um=0.2, finish="haze")],
    )  # fmt: skip
    assert after == PanelState(thickness_um=111.7, temperature_c=32, finish="haze", minutes=4)


def test_what_the_panel_does_not_show_stays_hidden() -> None:
    after = panel_after(PanelState(finish="swirls"), [Effect(0, removed_um=3, warms_k=9)])
    assert after == PanelState(finish="swirls")


def test_the_best_path_follows_the_keys() -> None:
    path = best_path(SCENARIO)
    assert [(step.decision.id, step.chosen) for step in path.steps] == [("first", 1), ("second", 2)]
    assert path.marks_percent == 100
    assert path.ended
    assert path.panel.thickness_um == 111.5


def test_an_open_path_names_the_decision_that_is_next() -> None:
    assert path_taken(SCENARIO, {}).next_decision == FIRST
    path = path_taken(SCENARIO, {"first": 2})
    assert path.next_decision == SECOND
    assert not path.ended
    assert path.panel.temperature_c == 59


def test_an_option_that_nothing_follows_ends_the_situation() -> None:
    path = path_taken(SCENARIO, {"first": 3, "second": 2})
    assert [step.decision.id for step in path.steps] == ["first"]
    assert path.ended
    assert path.marks_percent == 20


def test_marks_never_fall_below_nothing() -> None:
    assert path_taken(SCENARIO, {"first": 2, "second": 1}).marks_percent == 0


@pytest.mark.parametrize("choices", [{"second": 2}, {"first": 9}, {"nowhere": 1}])
def test_choices_the_path_never_meets_do_not_count(choices: dict[str, int]) -> None:
    path = path_taken(SCENARIO, choices)
    assert path.steps == ()
    assert path.next_decision == FIRST


def test_every_way_through_is_listed_once() -> None:
    paths = list(every_path(SCENARIO.decisions))
    assert len(paths) == len(set(paths)) == 7
    assert (("first", 3),) in paths


def test_a_scenario_of_words_alone_changes_no_numbers() -> None:
    assert changes_numbers(SCENARIO)
    assert not changes_numbers(a_scenario([a_decision("only", 1, {1: Effect(100, finish="haze")})]))
