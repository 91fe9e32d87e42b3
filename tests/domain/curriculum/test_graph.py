"""The decisions of a scenario hang together, or it is said where they do not."""

from __future__ import annotations

import pytest

from academy.domain.curriculum.graph import graph_findings
from academy.domain.curriculum.questions import Decision, Effect, PanelState
from tests.domain.curriculum.parts import a_decision, a_scenario

END = a_decision("end", 1, {1: Effect(50), 2: Effect(0)})
START = a_decision("start", 1, {1: Effect(50, follows="end"), 2: Effect(10)})

BROKEN = [
    ([a_decision("start", 1, {1: Effect(100, follows="nowhere")})], "nowhere, which is not a decision"),
    ([a_decision("start", 1, {1: Effect(100, follows="start")})], "in a circle: start -> start"),
    (
        [
            a_decision("start", 1, {1: Effect(50, follows="end")}),
            a_decision("end", 1, {1: Effect(50), 2: Effect(0, follows="start")}),
        ],
        "in a circle: start -> end -> start",
    ),
    ([START, END, a_decision("island", 1, {1: Effect(0)})], "no path reaches the decision island"),
    ([a_decision("start", 1, {1: Effect(90), 2: Effect(0)})], "add up to 90, not to 100"),
    ([a_decision("start", 1, {1: Effect(100), 2: Effect(60, follows="end")}), END], "earns 110, more than 100"),
    ([a_decision("start", 1, {1: Effect(100, removed_um=200), 2: Effect(0)})], "-88 micrometres left"),
]  # fmt: skip


@pytest.mark.parametrize(("decisions", "said"), BROKEN)
def test_a_broken_graph_is_refused(decisions: list[Decision], said: str) -> None:
    messages = [str(finding) for finding in graph_findings(a_scenario(decisions))]
    assert any(said in message for message in messages), messages


def test_a_sound_graph_is_left_alone() -> None:
    assert list(graph_findings(a_scenario([START, END]))) == []


@pytest.mark.parametrize(
    ("effect", "name"),
    [
        (Effect(100, removed_um=1), "thickness_um"),
        (Effect(100, warms_k=1), "temperature_c"),
        (Effect(100, takes_minutes=1), "minutes"),
    ],
)
def test_a_number_the_panel_does_not_give_cannot_change(effect: Effect, name: str) -> None:
    scenario = a_scenario([a_decision("start", 1, {1: effect})], PanelState(finish="haze"))
    (finding,) = graph_findings(scenario)
    assert f"changes {name}, which the panel does not give" in str(finding)
    assert finding.subject.part == "effect start 1"
