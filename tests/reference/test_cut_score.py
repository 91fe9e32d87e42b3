"""A cut from judges' ratings against worked values.

The ratings are invented (no openly readable published matrix was found); the
results are computed with independent code.
"""

from __future__ import annotations

import pytest

from academy.domain.assessment.cut_score import cut_score

RATINGS = [
    [70, 80, 60, 90, 50, 65, 75, 85, 55, 70],
    [65, 75, 55, 85, 60, 60, 70, 90, 50, 75],
    [75, 85, 65, 95, 55, 70, 80, 80, 60, 65],
    [60, 70, 50, 80, 45, 55, 65, 80, 45, 60],
    [80, 80, 70, 90, 60, 75, 80, 95, 65, 80],
]


def test_the_cut_of_the_whole_bank() -> None:
    bank = cut_score(RATINGS)
    assert bank.cut == 7.0
    assert bank.points_needed == 7
    assert bank.se == pytest.approx(0.272489, abs=1e-6)


def test_a_drawn_form_has_its_own_cut_and_its_own_standard_error() -> None:
    form = cut_score(RATINGS, [0, 3, 5, 7, 8])
    assert form.cut == 3.64
    assert form.points_needed == 4
    assert form.se == pytest.approx(0.142653, abs=1e-6)
