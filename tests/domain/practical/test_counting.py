"""When a signed practical counts, as a truth table."""

from __future__ import annotations

from datetime import timedelta

import pytest

from academy.domain.practical.counting import (
    AwaitsAmendment,
    InDoubt,
    NotMeasuredAgain,
    ObjectionState,
    OnlyCoached,
    SetAside,
    SignedPractical,
    StoppedForSafety,
    TakenOver,
    UnderObjection,
    doubt_shown,
    why_not_counted,
)
from academy.domain.practical.stages import PracticalKind
from tests.support.clock import NOW

ASSESSED, COACHED = PracticalKind.ASSESSED, PracticalKind.COACHED
NO_OBJECTION = ObjectionState.NONE
TODAY = NOW.date()
YESTERDAY = TODAY - timedelta(days=1)


@pytest.mark.parametrize(
    ("kind", "outcome", "taken_over", "objection", "why"),
    [
        (ASSESSED, "competent", False, NO_OBJECTION, None),
        (ASSESSED, "not yet competent", False, NO_OBJECTION, None),
        (COACHED, "competent", False, NO_OBJECTION, OnlyCoached()),
        (ASSESSED, "competent", True, NO_OBJECTION, TakenOver()),
        (ASSESSED, "not yet competent", True, NO_OBJECTION, TakenOver()),
        (ASSESSED, "stopped", False, NO_OBJECTION, StoppedForSafety()),
        (ASSESSED, "competent", False, ObjectionState.OPEN, UnderObjection()),
        (ASSESSED, "not yet competent", False, ObjectionState.OPEN, UnderObjection()),
        (ASSESSED, "competent", False, ObjectionState.NOT_UPHELD, None),
        (ASSESSED, "not yet competent", False, ObjectionState.SET_ASIDE, SetAside()),
        (ASSESSED, "competent", False, ObjectionState.TO_BE_AMENDED, AwaitsAmendment()),
    ],
)
def test_what_counts_and_why_not(
    kind: PracticalKind, outcome: str, taken_over: bool, objection: ObjectionState, why: object
) -> None:
    practical = SignedPractical(kind, outcome, taken_over, objection)
    assert why_not_counted(practical, TODAY) == why


@pytest.mark.parametrize(
    ("remeasure_by", "why", "shown"),
    [
        (None, None, None),
        (TODAY + timedelta(days=3), None, InDoubt(TODAY + timedelta(days=3))),
        (TODAY, None, InDoubt(TODAY)),
        (YESTERDAY, NotMeasuredAgain(YESTERDAY), None),
    ],
)
def test_a_gauge_in_doubt_drops_nobody_before_the_day_to_measure_again_has_passed(
    remeasure_by: object, why: object, shown: object
) -> None:
    practical = SignedPractical(ASSESSED, "competent", False, NO_OBJECTION, remeasure_by)  # type: ignore[arg-type]
    assert why_not_counted(practical, TODAY) == why
    assert doubt_shown(practical, TODAY) == shown


def test_nothing_is_said_of_the_gauge_where_it_does_not_count_anyway() -> None:
    assert (
        doubt_shown(SignedPractical(COACHED, "competent", False, NO_OBJECTION, TODAY), TODAY)
        is None
    )


def test_the_reasons_are_sentences_for_a_person() -> None:
    assert str(NotMeasuredAgain(YESTERDAY)).endswith("by 2026-03-01")
    assert "does not count until" in str(UnderObjection())
