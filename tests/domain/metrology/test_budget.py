"""May this section be cut again?"""

from __future__ import annotations

import pytest

from academy.domain.metrology.budget import (
    Budget,
    CutDecision,
    History,
    PlannedStep,
    may_cut_again,
)

STEP = PlannedStep(2, 1)


@pytest.mark.parametrize(
    ("baseline", "now", "allowed"),
    [
        (112, 107, True),
        (112, 106, False),
        (112.3, 107.3, True),
        (112.3, 107.29, False),
        (112, 115, True),
    ],
)
def test_a_step_fits_when_used_planned_and_uncertainty_reach_the_cap_at_most(
    baseline: float, now: float, allowed: bool
) -> None:
    assert may_cut_again(baseline, now, STEP).allowed is allowed


def test_noise_does_not_give_paint_back() -> None:
    assert may_cut_again(112, 115, STEP).used_um == 0.0
    remembered = may_cut_again(112, 111, STEP, largest_used_um=6)
    assert (remembered.used_um, remembered.allowed) == (6.0, False)


@pytest.mark.parametrize(("clear", "left"), [(40, 8.0), (32, 8.0), (20, 5.0), (None, 8.0)])
def test_a_quarter_of_a_known_clear_coat_lowers_the_cap(clear: float | None, left: float) -> None:
    decision = may_cut_again(112, 112, STEP, budget=Budget(clear_um=clear))
    assert decision.left_um == left


@pytest.mark.parametrize(("thinnest", "allowed"), [(83, True), (82.9, False), (None, True)])
def test_the_thinnest_spot_keeps_the_floor(thinnest: float | None, allowed: bool) -> None:
    decision = may_cut_again(90, 88, STEP, minimum_now_um=thinnest)
    assert decision.allowed is allowed


def test_an_owner_may_set_other_limits() -> None:
    assert may_cut_again(112, 106, STEP, budget=Budget(cap_um=9)).allowed is True
    assert may_cut_again(112, 112, STEP, budget=Budget(floor_um=110)).allowed is False


@pytest.mark.parametrize(
    ("history", "plastic", "reason"),
    [
        (History.UNKNOWN, False, "history is unknown"),
        (History.REPAINT, False, "was repainted"),
        (History.KNOWN, True, "on plastic"),
        (History.UNKNOWN, True, "on plastic"),
    ],
)
@pytest.mark.parametrize("now", [112, 100])
def test_what_the_gauge_cannot_know_is_asked(
    history: History, plastic: bool, reason: str, now: float
) -> None:
    decision = may_cut_again(112, now, STEP, history=history, on_plastic=plastic)
    assert decision.allowed is None
    assert str(decision.reason).startswith("Ask: ")
    assert reason in str(decision.reason)


def test_a_question_still_says_what_the_readings_alone_would_say() -> None:
    spent = may_cut_again(112, 100, STEP, history=History.UNKNOWN)
    assert "more than the 8.00 µm allowed" in str(spent.reason)


def test_every_refusal_names_its_numbers() -> None:
    spent: CutDecision = may_cut_again(112, 106, STEP)
    assert str(spent.reason) == (
        "6.00 µm used and up to 3.00 µm planned are more than the 8.00 µm allowed."
    )
    thin = may_cut_again(84, 82, STEP)
    assert "79.00 µm, below the floor of 80.00 µm" in str(thin.reason)
