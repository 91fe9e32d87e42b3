"""Removal with its uncertainty, and the uncertainty arithmetic behind it.

JCGM 100:2008 (GUM): data and printed results from memory; each printed value
is reproduced from the data, so the recalled data are right.
"""

from __future__ import annotations

import math
from functools import partial

import pytest

from academy.domain.metrology.removal import Removal, SpotReadings, removal_at_spots
from academy.domain.metrology.sample_size import readings_needed
from academy.domain.metrology.summary import summarise
from academy.domain.metrology.uncertainty import (
    coverage_factor,
    effective_degrees_of_freedom,
    rectangular,
    relative_uncertainty_of_sd,
    root_sum_square,
    triangular,
)
from tests.support.reference_case import Case, each

BEFORE = [112.4, 111.8, 113.1, 112.0, 112.6]
AFTER = [109.9, 109.1, 110.8, 109.6, 110.2]
GUM_TEMPERATURES = [
    96.90, 98.18, 98.25, 98.61, 99.03, 99.49, 99.56, 99.74, 99.89, 100.07,
    100.33, 100.42, 100.68, 100.95, 101.11, 101.20, 101.57, 101.84, 102.36, 102.72,
]  # fmt: skip
H1_NM = [25, 5.8, 3.9, 6.7, 16.599, 2.88679]


def paired() -> Removal:
    """Return the removal at five spots with a single reading on each side."""
    return removal_at_spots([SpotReadings([b], [a]) for b, a in zip(BEFORE, AFTER, strict=True)])


def pooled() -> Removal:
    """Return the same ten readings as if they were repeats at one spot."""
    return removal_at_spots([SpotReadings(BEFORE, AFTER)])


def percent_uncertainty_of_sd(readings: int) -> float:
    """Return by how many percent a standard deviation is itself uncertain."""
    return 100 * relative_uncertainty_of_sd(readings)


CASES = [
    Case("removal at five spots", lambda: paired().removed_um, 2.46, "GUM 4.2", "computed"),
    Case("its u", lambda: paired().u_um, 0.0678233, "GUM 4.2", "computed", relative=1e-6),
    Case("its U95", lambda: paired().expanded_um, 0.1883077, "GUM G.3", "computed", relative=1e-6),
    Case("u unpaired", lambda: pooled().u_um, 0.3657868, "GUM 4.2", "computed", relative=1e-6),
    Case(
        "GUM 4.4.3: mean of 20 temperatures",
        lambda: summarise(GUM_TEMPERATURES).mean,
        100.145,
        "GUM 4.4.3, Table 1",
        "from memory",
        absolute=0.0005,
    ),
    Case(
        "GUM 4.4.3: their standard deviation",
        lambda: summarise(GUM_TEMPERATURES).sd or math.nan,
        1.489,
        "GUM 4.4.3, Table 1",
        "from memory",
        absolute=0.0005,
    ),
    Case("rectangular ±4", lambda: rectangular(4), 2.309401, "GUM 4.4.5", "from memory", 1e-6),
    Case("triangular ±4", lambda: triangular(4), 1.632993, "GUM 4.4.6", "from memory", 1e-6),
    Case(
        "GUM H.1: combined uncertainty of an end gauge",
        lambda: root_sum_square(H1_NM),
        31.6639,
        "GUM H.1, values as reproduced in a public repository",
        "read, recomputed",
        absolute=1e-3,
    ),
    Case(
        "GUM H.1.6: effective degrees of freedom",
        lambda: effective_degrees_of_freedom([25, 9.7, 2.9, 16.6], [18, 25.6, 50, 2]),
        16.765,
        "GUM H.1.6 (prints 16, truncated)",
        "from memory",
        absolute=0.01,
    ),
    Case(
        "GUM H.1.6: 99 % interval with 16 degrees of freedom",
        lambda: coverage_factor(16, 0.99) * 32,
        93.47,
        "GUM H.1.6 (prints 2.92 and 93 nm)",
        "from memory",
        absolute=0.01,
    ),
    *[
        Case(
            f"t for 95 % and {df} degrees of freedom",
            partial(coverage_factor, df),
            expected,
            "GUM Table G.2",
            "computed",
            absolute=0.0005,
        )
        for df, expected in {2: 4.303, 4: 2.776, 14: 2.145, 24: 2.064}.items()
    ],
    *[
        Case(
            f"how uncertain a standard deviation from {n} readings is, percent",
            partial(percent_uncertainty_of_sd, n),
            printed,
            "GUM Table E.1 (printed whole percent)",
            "read, recomputed" if n == 30 else "from memory",
            absolute=0.5,
        )
        for n, printed in {2: 76, 3: 52, 5: 36, 10: 24, 30: 13, 50: 10}.items()
    ],
    *[
        Case(
            f"readings to see {change} µm with a scatter of {sd} µm",
            partial(readings_needed, sd, change),
            needed,
            "two-sided 5 % normal formula at 80 % power",
            "computed",
        )
        for sd, change, needed in [(1, 1, 16), (1, 2, 4), (1.5, 2, 9), (2, 1, 63)]
    ],
]


@each(CASES)
def test_removal_and_uncertainty_agree_with_worked_values(case: Case) -> None:
    case.check()


def test_pairing_the_spots_makes_the_uncertainty_five_times_smaller() -> None:
    assert pooled().u_um / paired().u_um == pytest.approx(5.39, abs=0.01)


def test_a_bias_that_both_readings_share_drops_out() -> None:
    """GUM 5.2: a fully correlated part cancels; u of the difference is √(0.5² + 0.5²)."""
    biased = removal_at_spots([SpotReadings([112 + 2.0], [109 + 2.0])], gauge_sd_um=0.5)
    assert biased.removed_um == 3.0
    assert biased.u_um == pytest.approx(0.7071068, abs=1e-7)


@pytest.mark.parametrize(("readings", "half_width"), [(3, 3.40), (10, 1.41)])
def test_few_readings_cannot_show_a_micrometre(readings: int, half_width: float) -> None:
    """t(0.975, 2n−2)·s·√(2/n) with s = 1.5 µm; computed."""
    spread = coverage_factor(2 * readings - 2) * 1.5 * math.sqrt(2 / readings)
    assert spread == pytest.approx(half_width, abs=0.005)
