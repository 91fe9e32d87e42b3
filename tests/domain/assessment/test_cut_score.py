"""Cuts, compared as whole numbers."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from academy.domain.assessment.cut_score import NoRatings, RatingsIncomplete, cut_score

RATINGS = st.integers(1, 5).flatmap(
    lambda questions: st.lists(
        st.lists(st.integers(0, 100), min_size=questions, max_size=questions),
        min_size=1,
        max_size=6,
    )
)


@given(RATINGS)
def test_a_score_passes_exactly_when_it_reaches_the_sum_of_mean_ratings(
    ratings: list[list[int]],
) -> None:
    cut = cut_score(ratings)
    exact = sum(Fraction(sum(column), 100 * len(ratings)) for column in zip(*ratings, strict=True))
    for right in range(len(ratings[0]) + 1):
        assert cut.passes(right) is (right >= exact)
        assert cut.passes(right) is (right >= cut.points_needed)


def test_a_cut_of_a_whole_number_does_not_cost_a_point() -> None:
    """Ten ratings of 0.7 add up to 6.999… or 7.000…1 in binary; here they are 7."""
    cut = cut_score([[70] * 10, [70] * 10, [70] * 10])
    assert (cut.cut, cut.points_needed, cut.se) == (7.0, 7, 0.0)
    assert cut.passes(7)


def test_one_judge_has_no_standard_error() -> None:
    assert cut_score([[70, 80]]).se is None


def test_ratings_have_to_be_complete() -> None:
    with pytest.raises(RatingsIncomplete, match="judge 2 rated 1, judge 1 rated 2"):
        cut_score([[70, 80], [70]])
    with pytest.raises(NoRatings):
        cut_score([])
    with pytest.raises(NoRatings):
        cut_score([[]])
    with pytest.raises(NoRatings):
        cut_score([[70]], form=[])
