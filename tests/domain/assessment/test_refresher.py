"""Gaps between refreshers grow with right answers, shrink with wrong ones, and stay in the term."""

from __future__ import annotations

from datetime import timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from academy.domain.assessment.refresher import (
    FIVE,
    GAPS_DAYS,
    Refresher,
    ScoredAnswer,
    is_slow,
    most_due,
    refresher,
)
from tests.support.clock import NOW, later


def after(*marks: int, slow: bool = False, term_days: int = 365) -> float:
    """Return the gap after answers a day apart."""
    answers = [ScoredAnswer(later(days=day), mark, slow) for day, mark in enumerate(marks)]
    found = refresher("cord", answers, term_days)
    assert found is not None
    return found.gap_days


def test_before_the_first_answer_nothing_is_asked_again() -> None:
    assert refresher("cord", [], 365) is None


@pytest.mark.parametrize(("right", "gap"), [(1, 2), (2, 7), (3, 21), (4, 60), (5, 150), (9, 150)])
def test_each_right_answer_takes_the_next_gap(right: int, gap: int) -> None:
    assert after(*[100] * right) == gap


@pytest.mark.parametrize(
    ("marks", "gap"),
    [((0,), 2), ((100, 100, 100, 0), 2), ((100, 100, 100, 100, 0), 7), ((100, 100, 50), 7)],
)
def test_a_wrong_answer_goes_back_two_and_half_right_stays(
    marks: tuple[int, ...], gap: int
) -> None:
    assert after(*marks) == gap


def test_slow_and_right_goes_half_as_far() -> None:
    """Between two gaps stands their mean."""
    assert after(100, 100, 100, slow=True) == (2 + 7) / 2


answers = st.lists(st.tuples(st.integers(0, 100), st.booleans()), min_size=1, max_size=30)


@given(answers, st.integers(1, 400))
def test_a_gap_stays_between_the_shortest_and_the_term(
    given_answers: list[tuple[int, bool]], term_days: int
) -> None:
    found = refresher(
        "cord",
        [ScoredAnswer(later(days=n), m, slow) for n, (m, slow) in enumerate(given_answers)],
        term_days,
    )
    assert found is not None
    assert min(GAPS_DAYS[0], term_days) <= found.gap_days <= min(GAPS_DAYS[-1], term_days)
    assert found.due_at == found.last_at + timedelta(days=found.gap_days)


@given(answers)
def test_a_right_answer_never_shortens_and_a_wrong_one_never_lengthens(
    given_answers: list[tuple[int, bool]],
) -> None:
    before = [ScoredAnswer(later(days=n), m, slow) for n, (m, slow) in enumerate(given_answers)]
    at = later(days=len(before))
    now, right, wrong = (
        refresher("cord", told, 365)
        for told in (before, [*before, ScoredAnswer(at, 100)], [*before, ScoredAnswer(at, 0)])
    )
    assert now is not None
    assert right is not None
    assert wrong is not None
    assert wrong.gap_days <= now.gap_days <= right.gap_days


@given(st.permutations([ScoredAnswer(later(days=n), 100 * (n % 2)) for n in range(6)]))
def test_the_order_of_the_rows_means_nothing(shuffled: list[ScoredAnswer]) -> None:
    in_order = sorted(shuffled, key=lambda answer: answer.at)
    assert refresher("cord", shuffled, 365) == refresher("cord", in_order, 365)


@given(st.lists(st.tuples(st.integers(0, 300), st.sampled_from(GAPS_DAYS)), max_size=12))
def test_five_are_asked_and_none_left_out_is_more_overdue(rows: list[tuple[int, int]]) -> None:
    known = [Refresher(f"o-{n}", later(days=-d), float(g)) for n, (d, g) in enumerate(rows)]
    asked = most_due(known, NOW)[:FIVE]
    assert len(asked) == min(5, len(known))
    left = [one for one in known if one not in asked]
    if asked and left:
        assert min(a.overdue(NOW) for a in asked) >= max(one.overdue(NOW) for one in left)


def test_slow_is_never_said_from_fewer_than_twenty_answers() -> None:
    assert not is_slow(9999, [1.0] * 19)
    assert not is_slow(None, [1.0] * 99)
    assert is_slow(11, [float(n) for n in range(1, 11)] * 2)
    assert not is_slow(9, [float(n) for n in range(1, 11)] * 2)
