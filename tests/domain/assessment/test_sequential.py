"""Decisions panel by panel."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from academy.domain.assessment.proportion import panels_for_proof
from academy.domain.assessment.sequential import (
    Decision,
    NoDecisionInSight,
    judge_panels,
    operating_characteristic,
    sequential_rule,
)

RULE = sequential_rule(0.1, 0.2, 0.1, 0.1)


def test_straight_passes_decide_at_the_first_crossing() -> None:
    needed = RULE.straight_passes
    assert judge_panels(RULE, [True] * (needed - 1)).decision is Decision.UNDECIDED
    outcome = judge_panels(RULE, [True] * needed + [False] * 50)
    assert (outcome.decision, outcome.decided_after) == (Decision.COMPETENT, needed)


def test_straight_failures_refuse() -> None:
    outcome = judge_panels(RULE, [False] * 10)
    assert outcome.decision is Decision.NOT_YET
    assert outcome.decided_after == 4


def test_no_panel_decides_nothing() -> None:
    outcome = judge_panels(RULE, [])
    assert (outcome.decision, outcome.decided_after) == (Decision.UNDECIDED, None)


def test_a_trainee_who_never_fails_is_accepted_after_the_straight_passes() -> None:
    point = operating_characteristic(RULE, 0.0)
    assert (point.accept, point.mean_trials) == (1.0, RULE.straight_passes)
    assert operating_characteristic(RULE, 1.0).accept == 0.0


@given(st.floats(0.01, 0.99), st.floats(0.01, 0.99))
def test_a_trainee_who_fails_more_is_accepted_less(one: float, other: float) -> None:
    low, high = sorted((one, other))
    better = operating_characteristic(RULE, low).accept
    assert better >= operating_characteristic(RULE, high).accept - 1e-12


def test_rates_too_close_to_decide_are_refused_in_a_sentence() -> None:
    with pytest.raises(NoDecisionInSight, match="choose rates further apart"):
        operating_characteristic(sequential_rule(0.1, 0.1 + 1e-12, 0.1, 0.1), 0.1)


@pytest.mark.parametrize(
    ("target", "confidence", "panels"),
    [
        (0.5, 0.75, 2),
        (0.1, 0.99, 2),
        (0.1, 0.991, 3),
        (0.7, 0.657, 3),
        (0.5, 0.2, 1),
        (0.2, 0.2, 1),
    ],
)
def test_whole_quotients_are_not_rounded_up_by_mistake(
    target: float, confidence: float, panels: int
) -> None:
    assert panels_for_proof(target, confidence) == panels
