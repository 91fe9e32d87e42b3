"""The sequential rule for panels: design numbers, and its exact behaviour against enumeration."""

from __future__ import annotations

from collections import Counter
from fractions import Fraction

import pytest

from academy.domain.assessment.sequential import (
    Decision,
    operating_characteristic,
    sequential_rule,
)


def test_design_numbers_for_five_against_ten_percent() -> None:
    """Formulas read in a published learning-curve chart (there for the downward chart); computed."""
    rule = sequential_rule(0.05, 0.10, 0.1, 0.1)
    assert rule.s == pytest.approx(0.072358, abs=1e-6)
    assert rule.h0 == pytest.approx(2.940554, abs=1e-6)
    assert rule.h1 == pytest.approx(2.940554, abs=1e-6)
    assert rule.straight_passes == 41


@pytest.mark.parametrize(("p0", "p1", "panels"), [(0.1, 0.2, 19), (0.2, 0.4, 8)])
def test_rates_further_apart_need_fewer_straight_passes(p0: float, p1: float, panels: int) -> None:
    """Computed; risks of 0.1."""
    assert sequential_rule(p0, p1, 0.1, 0.1).straight_passes == panels


@pytest.mark.parametrize("rate", [0.1, 0.3, 0.45])
def test_acceptance_and_mean_length_agree_with_a_count_of_every_path(rate: float) -> None:
    """Independent route: paths counted in whole numbers, likelihood ratios compared as fractions."""
    accept, mean = counted(rate)
    point = operating_characteristic(sequential_rule(0.2, 0.4, 0.1, 0.1), rate)
    assert point.accept == pytest.approx(accept, abs=1e-9)
    assert point.mean_trials == pytest.approx(mean, rel=1e-9)


def counted(rate: float) -> tuple[float, float]:
    """Return acceptance and mean length for 0.2 against 0.4 with risks of 0.1.

    Four failures in six panels lie exactly on the line (2⁴·(3/4)² = 9): refused.
    """
    paths, accept, mean = {0: 1}, 0.0, 0.0
    for panels in range(1, 800):
        arriving: Counter[int] = Counter()
        for failures, number in paths.items():
            arriving[failures] += number
            arriving[failures + 1] += number
        paths = {}
        for failures, number in arriving.items():
            ratio = Fraction(2) ** failures * Fraction(3, 4) ** (panels - failures)
            chance = number * rate**failures * (1 - rate) ** (panels - failures)
            if Fraction(1, 9) < ratio < 9:
                paths[failures] = number
            else:
                mean += panels * chance
                accept += chance if ratio <= Fraction(1, 9) else 0.0
    return accept, mean


def test_a_point_exactly_on_the_line_is_decided() -> None:
    """2⁴·(3/4)² = 9 = 0.9/0.1: four failures in six panels are enough to refuse."""
    rule = sequential_rule(0.2, 0.4, 0.1, 0.1)
    assert rule.decide(failures=4, panels=6) is Decision.NOT_YET
    assert rule.decide(failures=3, panels=5) is Decision.UNDECIDED


def test_the_two_risks_are_near_what_was_asked() -> None:
    """Wald 1947: the true risks together stay below the two asked; ours move in whole panels."""
    rule = sequential_rule(0.05, 0.10, 0.1, 0.1)
    refused_at_p0 = 1 - operating_characteristic(rule, 0.05).accept
    accepted_at_p1 = operating_characteristic(rule, 0.10).accept
    assert refused_at_p0 + accepted_at_p1 < 0.2
    assert rule.decide(failures=0, panels=41) is Decision.COMPETENT
