"""Item statistics: what they say, and when they say nothing."""

from __future__ import annotations

import pytest

from academy.domain.assessment.item_statistics import Reliability, WhyNoAlpha, item_statistics
from academy.domain.assessment.responses import NobodyAnswered, RowsDiffer, responses_of


def test_a_question_not_presented_is_skipped_and_not_wrong() -> None:
    found = item_statistics(responses_of([[1, None], [1, 0], [0, 1], [None, 1]]))
    assert found.share_right == pytest.approx((2 / 3, 2 / 3))
    assert found.answered == (3, 3)


def test_persons_who_answer_alike_are_kept_once_and_count_each() -> None:
    rows = [[1, 0, 1]] * 3 + [[0, 0, 1]] * 2 + [[1, 1, 0]]
    table = responses_of(rows)
    assert table.right.shape == (3, 3)
    assert table.persons == 6
    assert item_statistics(table) == item_statistics(
        responses_of([[1, 0, 1], [0, 0, 1], [1, 1, 0]], [3, 2, 1])
    )


def test_there_is_no_alpha_where_persons_saw_different_questions() -> None:
    rows: list[list[int | None]] = [[1, 0, None], [1, None, 0], [None, 1, 1], [0, 0, None]]
    assert item_statistics(responses_of(rows)).reliability is WhyNoAlpha.INCOMPLETE


def test_there_is_no_alpha_of_one_person_one_question_or_one_score() -> None:
    assert item_statistics(responses_of([[1, 0]])).reliability is WhyNoAlpha.TOO_FEW
    assert item_statistics(responses_of([[1], [0]])).reliability is WhyNoAlpha.TOO_FEW
    equal = responses_of([[1, 0], [0, 1], [1, 0]])
    assert item_statistics(equal).reliability is WhyNoAlpha.NO_SPREAD


def test_two_questions_answered_alike_have_an_alpha_of_1_and_no_alpha_if_one_goes() -> None:
    reliability = item_statistics(responses_of([[1, 1], [0, 0], [1, 1]])).reliability
    assert isinstance(reliability, Reliability)
    assert reliability.alpha == pytest.approx(1.0)
    assert reliability.alpha_if_deleted == (None, None)


def test_a_question_everybody_gets_right_has_no_correlation() -> None:
    found = item_statistics(responses_of([[1, 1, 0], [1, 0, 0], [1, 1, 1]]))
    assert found.item_rest[0] is None
    assert found.item_rest[1] is not None


def test_without_a_response_there_are_no_statistics() -> None:
    with pytest.raises(NobodyAnswered):
        responses_of([[None, None]])
    with pytest.raises(NobodyAnswered):
        responses_of([])
    with pytest.raises(RowsDiffer, match="person 2 has 1 responses and person 1 has 2"):
        responses_of([[1, 0], [1]])
