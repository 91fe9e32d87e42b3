"""One-sided normal tolerance factors against handbook tables and against their definition."""

from __future__ import annotations

import numpy as np
import pytest

from academy.domain.metrology.tolerance import tolerance_factor
from tests.support.reference_case import Case, each

# The tables of one-sided factors in the open literature on quality control, from memory; the
# pages were not seen.  NIST/SEMATECH e-Handbook 7.2.6.3 works the same formula by noncentral t.
TABLE = "one-sided normal tolerance factors, tables after Lieberman (1957) and Owen (1963)"
FACTORS = (
    (10, 0.90, 0.95, 2.355),
    (10, 0.95, 0.95, 2.911),
    (10, 0.99, 0.95, 3.981),
    (20, 0.90, 0.95, 1.926),
    (20, 0.95, 0.95, 2.396),
    (5, 0.90, 0.95, 3.407),
    (7, 0.90, 0.95, 2.755),
    (30, 0.90, 0.95, 1.777),
)


@each(
    [
        Case(
            f"k for {n} values, {coverage:.0%} at {confidence:.0%}",
            lambda n=n, coverage=coverage, confidence=confidence: tolerance_factor(  # type: ignore[misc]
                n, coverage, confidence
            ),
            expected,
            TABLE,
            "from memory",
            absolute=0.0015,
        )
        for n, coverage, confidence, expected in FACTORS
    ]
)
def test_a_factor_stands_in_the_tables(case: Case) -> None:
    case.check()


@pytest.mark.parametrize(("n", "coverage", "confidence"), [(7, 0.90, 0.85), (12, 0.95, 0.90)])
def test_the_bound_covers_as_often_as_it_promises(
    n: int, coverage: float, confidence: float
) -> None:
    """Independent route: 200,000 simulated samples, seeded; three simulation errors allowed."""
    from scipy.special import ndtr

    samples = np.random.default_rng(7).standard_normal((200_000, n))
    bounds = samples.mean(axis=1) + tolerance_factor(n, coverage, confidence) * samples.std(
        axis=1, ddof=1
    )
    covered = float((ndtr(bounds) >= coverage).mean())
    assert covered == pytest.approx(
        confidence, abs=3 * (confidence * (1 - confidence) / 2e5) ** 0.5
    )
