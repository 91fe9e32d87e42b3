"""Whether two forms decide alike.

H. Huynh (1976), Journal of Educational Measurement 13, 253: formulas from
memory, values computed with independent code.
"""

from __future__ import annotations

import numpy as np
import pytest

from academy.domain.assessment.decision_quality import (
    beta_binomial_quality,
    kr21,
    lengthened,
    true_shares,
)
from academy.domain.assessment.score_distribution import chance_of_passing


def test_six_questions_with_mean_4_and_variance_2() -> None:
    shares = true_shares(6, 4.0, 2.0)
    assert (shares.a, shares.b) == pytest.approx((6, 3), abs=1e-12)
    assert kr21(6, 4.0, 2.0) == pytest.approx(0.4, abs=1e-12)
    quality = beta_binomial_quality(shares, 6, 4)
    assert quality.pass_rate == pytest.approx(0.657343, abs=1e-6)
    assert quality.consistency == pytest.approx(0.677059, abs=1e-6)
    assert quality.kappa == pytest.approx(0.283128, abs=1e-6)


@pytest.mark.parametrize(
    ("questions", "needed", "chance", "passing"),
    [
        (20, 14, 1 / 3, 0.000878807),
        (10, 7, 1 / 3, 0.0196616),
        (30, 21, 0.7, 0.588809),
        (30, 21, 0.6, 0.176286),
        (30, 21, 0.8, 0.938913),
    ],
)
def test_passing_by_guessing_and_at_the_border(
    questions: int, needed: int, chance: float, passing: float
) -> None:
    """Binomial upper tails; computed."""
    found = chance_of_passing(np.full(questions, chance), needed)
    assert float(found) == pytest.approx(passing, abs=5e-7)


def test_a_form_twice_as_long_by_spearman_brown() -> None:
    """C. Spearman, W. Brown (1910): 0.60 becomes 0.75; follows from the formula."""
    assert lengthened(0.6, 2) == pytest.approx(0.75, abs=1e-12)
    assert true_shares(6, 4.0, 2.0).kr21(12) == pytest.approx(lengthened(0.4, 2), abs=1e-12)
