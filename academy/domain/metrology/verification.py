"""Checking a gauge against a certified standard, and which readings a failed check puts in doubt.

The judgement uses the tolerances of gauge and standard together (SSPC-PA 2;
wording from memory): root-sum-square for independent tolerances, their sum
where a text asks for it, which is looser.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum
from fractions import Fraction

from academy.domain.metrology.errors import TooFewReadings
from academy.domain.metrology.exact import Written, exact, exact_all, mean_of, square_root


class Combine(StrEnum):
    """How two tolerances add."""

    ROOT_SUM_SQUARE = "root-sum-square"
    SUM = "sum"


@dataclass(frozen=True, slots=True)
class Tolerance:
    """An absolute part plus a share of the thickness, as on a gauge's certificate: ±(1 µm + 3 %)."""

    absolute_um: Written = 0
    percent: Written = 0

    def at(self, thickness_um: Written) -> Fraction:
        """Return the tolerance at a thickness: both parts added."""
        return exact(self.absolute_um) + exact(self.percent) / 100 * exact(thickness_um)

    def greater_part_at(self, thickness_um: Written) -> Fraction:
        """Return the tolerance of the other usual wording, 'whichever is greater'."""
        return max(exact(self.absolute_um), exact(self.percent) / 100 * exact(thickness_um))


@dataclass(frozen=True, slots=True)
class GaugeVerification:
    """The outcome of one check against a standard, in micrometres."""

    mean_um: float
    error_um: float
    limit_um: float
    passed: bool


def verify_gauge(
    certified_um: Written,
    readings_um: Sequence[Written],
    gauge_tolerance: Tolerance,
    standard_tolerance: Tolerance,
    combine: Combine = Combine.ROOT_SUM_SQUARE,
) -> GaugeVerification:
    """Compare the mean reading with the certified value; an error equal to the limit passes.

    Compared as fractions (squares, for the root-sum-square), so that 'equal'
    does not hang on the last binary digit.
    """
    if not readings_um:
        raise TooFewReadings(taken=0, needed=1)
    mean = mean_of(exact_all(readings_um))
    error = mean - exact(certified_um)
    gauge, standard = gauge_tolerance.at(certified_um), standard_tolerance.at(certified_um)
    summed = combine is Combine.SUM
    squared_limit = (gauge + standard) ** 2 if summed else gauge**2 + standard**2
    return GaugeVerification(
        mean_um=float(mean),
        error_um=float(error),
        limit_um=square_root(squared_limit),
        passed=error**2 <= squared_limit,
    )


def zero_passes(readings_um: Sequence[Written], tolerance: Tolerance) -> bool:
    """Say whether the mean on bare reference metal is within the absolute part of the tolerance."""
    if not readings_um:
        raise TooFewReadings(taken=0, needed=1)
    return abs(mean_of(exact_all(readings_um))) <= exact(tolerance.absolute_um)


def less_base_metal(reading_um: Written, base_metal_um: Written) -> float:
    """Return a reading corrected for what the gauge shows on the bare, prepared metal (SSPC-PA 2)."""
    return float(exact(reading_um) - exact(base_metal_um))


@dataclass(frozen=True, slots=True)
class Check:
    """One verification in the gauge's history."""

    at: datetime
    passed: bool


def in_doubt(checks: Sequence[Check], taken_at: datetime) -> bool:
    """Say whether a reading is put in doubt by the gauge's checks.

    A failed check makes every reading since the last good one suspect
    (SSPC-PA 2), and those after it until a check passes again.
    """
    ordered = sorted(checks, key=lambda check: check.at)
    before = [check for check in ordered if check.at <= taken_at]
    after = [check for check in ordered if check.at > taken_at]
    return bool(before and not before[-1].passed) or bool(after and not after[0].passed)
