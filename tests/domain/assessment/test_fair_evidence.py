"""Which answers count: first met, first sitting, handed in, and something answered."""

from __future__ import annotations

from typing import Any

import pytest

from academy.domain.assessment.fair_evidence import SatForm, counted_sittings, met_first
from academy.domain.assessment.progress import Purpose


def a_form(sitting: str = "one", **overrides: Any) -> SatForm:
    fields: dict[str, Any] = {
        "sitting": sitting,
        "person": "mira",
        "purpose": Purpose.QUIZ,
        "subject": "pads",
        "handed_in": True,
        "anything_answered": True,
    }
    return SatForm(**(fields | overrides))


@pytest.mark.parametrize(
    ("purpose", "counts"),
    [
        (Purpose.QUIZ, True),
        (Purpose.EXAMINATION, True),
        (Purpose.MUST_KNOW_AGAIN, False),
        (Purpose.PRACTICE, False),
        (Purpose.REFRESHER, False),
    ],
)
def test_only_quizzes_and_examinations_count(purpose: Purpose, counts: bool) -> None:
    assert bool(counted_sittings([a_form(purpose=purpose)])) is counts


def test_a_second_sitting_of_the_same_quiz_does_not_count() -> None:
    assert counted_sittings([a_form("first"), a_form("second")]) == {"first"}


def test_the_same_quiz_of_somebody_else_and_another_quiz_count() -> None:
    forms = [a_form("first"), a_form("hers", person="edda"), a_form("other", subject="machines")]
    assert counted_sittings(forms) == {"first", "hers", "other"}


@pytest.mark.parametrize("what", [{"handed_in": False}, {"anything_answered": False}])
def test_a_form_that_was_left_does_not_count_nor_does_the_next_one(what: dict[str, Any]) -> None:
    """The next sitting is not the first any more: its questions may have been read."""
    assert not counted_sittings([a_form("left", **what), a_form("next")])


def test_a_question_is_met_first_once_by_each_person() -> None:
    met = met_first([("mira", "q1"), ("edda", "q1"), ("mira", "q1"), ("mira", "q2")])
    assert met == (True, True, False, True)
