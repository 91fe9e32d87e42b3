"""A share as a page shows it."""

from __future__ import annotations

import pytest

from academy.domain.assessment.shown_share import (
    UNKNOWN_BANK,
    BetaPrior,
    FewAnswers,
    ManyAnswers,
    NoAnswers,
    prior_from_moments,
    prior_of_bank,
    shown_share,
)


@pytest.mark.parametrize("answered", range(1, 30))
def test_below_30_answers_no_bare_percentage_is_shown(answered: int) -> None:
    for right in range(answered + 1):
        shown = shown_share(right, answered)
        assert isinstance(shown.sentence, FewAnswers)
        assert "%" not in str(shown.sentence)
        assert f"{right} of {answered} right" in str(shown.sentence)
        assert 0 <= shown.interval.lower < shown.share < shown.interval.upper <= 1


def test_from_30_answers_on_a_percentage_comes_with_its_count_and_range() -> None:
    shown = shown_share(27, 30)
    assert isinstance(shown.sentence, ManyAnswers)
    assert str(shown.sentence) == "90 % right (27 of 30; likely 74 to 96 %)"


def test_nothing_is_said_of_a_question_nobody_answered() -> None:
    shown = shown_share(0, 0)
    assert isinstance(shown.sentence, NoAnswers)
    assert shown.share == 0.5


def test_few_answers_are_drawn_towards_the_bank() -> None:
    bank = BetaPrior(14.0, 6.0)
    assert shown_share(0, 3, bank).share == pytest.approx(14 / 23)
    assert shown_share(0, 3000, bank).share < 0.01


def test_the_bank_is_known_from_its_questions_without_their_luck() -> None:
    right, answered = [180, 140, 100, 60, 20], [200] * 5
    prior = prior_of_bank(right, answered)
    assert prior.a / (prior.a + prior.b) == pytest.approx(0.5)
    shares = [r / n for r, n in zip(right, answered, strict=True)]
    raw = prior_from_moments(0.5, sum((s - 0.5) ** 2 for s in shares) / 4)
    assert raw is not None
    assert prior.a + prior.b > raw.a + raw.b


def test_a_bank_of_few_or_equal_questions_says_nothing_of_the_next() -> None:
    assert prior_of_bank([3, 4], [5, 5]) == UNKNOWN_BANK
    assert prior_of_bank([5] * 6, [10] * 6) == UNKNOWN_BANK
    assert prior_of_bank([10] * 6, [10] * 6) == UNKNOWN_BANK


def test_moments_no_beta_has_give_no_prior() -> None:
    assert prior_from_moments(0.5, 0.25) is None
    assert prior_from_moments(0.5, 0.0) is None
    assert prior_from_moments(1.0, 0.1) is None
