"""Conformity and guard bands; JCGM 106:2012 and ILAC-G8:09/2019."""

from __future__ import annotations

from functools import partial

import pytest

from academy.domain.metrology.conformity import (
    Side,
    acceptance_limit,
    conformity_probability,
    four_way,
    guard_band,
)
from academy.domain.metrology.tolerance import tolerance_factor
from tests.support.reference_case import Case, Known, each

READ: Known = "read, recomputed"
MEMORY: Known = "from memory"
JCGM = "JCGM 106:2012 7.2 to 7.4"
CASES = [
    *[
        Case(
            f"below a maximum of 2, reading {y}",
            partial(conformity_probability, y, 0.25, upper=2),
            p,
            JCGM,
            "computed",
            absolute=1e-5,
        )
        for y, p in [(1.5, 0.97725), (2.0, 0.5), (2.5, 0.02275)]
    ],
    *[
        Case(
            f"above a minimum of 100, reading {y}",
            partial(conformity_probability, y, 1.5, lower=100),
            p,
            "JCGM 106:2012 7.3",
            "computed",
            absolute=1e-4,
        )
        for y, p in [(98, 0.0912), (100, 0.5), (102.4673, 0.95), (103, 0.9772)]
    ],
    *[
        Case(
            f"largest wrong-yes risk with a guard band of {share} U",
            partial(conformity_probability, -2 * share, 1.0, lower=0),
            risk,
            "ILAC-G8:09/2019 section 4 and Table 1",
            known,
            absolute=1e-5,
        )
        for share, risk, known in [
            (0, 0.5, READ),
            (1, 0.02275, READ),
            (0.83, 0.048457, MEMORY),
            (1.5, 0.00135, MEMORY),
        ]
    ],
    *[
        Case(
            f"guard band for a risk of {risk}",
            partial(guard_band, 1.0, risk),
            g,
            "Eurachem/CITAC compliance guide (rounds to 1.64, 2.33)",
            "read, recomputed",
            absolute=1e-4,
        )
        for risk, g in [(0.05, 1.6449), (0.01, 2.3263)]
    ],
    Case(
        "speed of 107 against a limit of 100, 2 % uncertainty",
        lambda: conformity_probability(107, 0.02 * 107, lower=100),
        0.999464,
        "JCGM 106:2012 8.3.3 (prints 107 km/h for more than 99.9 %)",
        "from memory",
        absolute=1e-5,
    ),
    *[
        Case(
            f"one-sided tolerance factor, n {n}, {coverage} covered, {confidence} sure",
            partial(tolerance_factor, n, coverage, confidence),
            k,
            source,
            "from memory",
            absolute=5e-4,
        )
        for n, coverage, confidence, k, source in [
            (10, 0.95, 0.95, 2.911, "usual tables of one-sided normal tolerance factors"),
            (5, 0.95, 0.95, 4.203, "usual tables of one-sided normal tolerance factors"),
            (2, 0.95, 0.95, 26.260, "usual tables of one-sided normal tolerance factors"),
            (43, 0.90, 0.99, 1.8740, "NIST/SEMATECH e-Handbook 7.2.6.3"),
        ]
    ],
]


@each(CASES)
def test_decision_rules_agree_with_worked_values(case: Case) -> None:
    case.check()


def test_a_guard_band_draws_the_limit_inwards_on_either_side() -> None:
    assert acceptance_limit(100, 1.5, 0.05, Side.MINIMUM) == pytest.approx(102.4673, abs=1e-4)
    assert acceptance_limit(100, 1.5, 0.05, Side.MAXIMUM) == pytest.approx(97.5327, abs=1e-4)


@pytest.mark.parametrize(
    ("value", "outcome"),
    [
        (103, "pass"),
        (102.9, "conditional pass"),
        (100, "conditional pass"),
        (99.9, "conditional fail"),
        (97, "conditional fail"),
        (96.9, "fail"),
    ],
)
def test_four_outcomes_with_a_guard_band_on_both_sides(value: float, outcome: str) -> None:
    """ILAC-G8:09/2019 4.2.3, read for a maximum; where equality falls is our choice."""
    assert four_way(value, minimum=100, band=3).value == outcome
