"""Removal by Preston's proportionality against worked values."""

from __future__ import annotations

from dataclasses import replace

from academy.domain.polishing.kinematics import orbit_speed_m_s
from academy.domain.polishing.pressure import flat_pressure_kpa
from academy.domain.polishing.preston import (
    SetOfPasses,
    fitted_coefficient_m2_n,
    removal_rate_mm3_s,
    removal_ratio,
    removed_um,
    removed_volume_mm3,
)
from tests.support.reference_case import Case, each

REFERENCE = SetOfPasses(
    force_n=40,
    pad_mm=150,
    arm_speed_mm_s=25,
    overlap=0.5,
    passes=4,
    mean_m_s=orbit_speed_m_s(21, 4200),
)
# What one assumed micrometre in the reference set implies; no published value for clear coat.
IMPLIED_M2_N = 2.537546924296801e-12
FUSED_SILICA_CM2_DYN = 1.6e-13

PRESTON = "F. W. Preston 1927, J. Soc. Glass Technol. 11, 214: h = k p s"

CASES = [
    Case(
        "coefficient that one assumed micrometre implies",
        lambda: fitted_coefficient_m2_n(1.0, REFERENCE),
        IMPLIED_M2_N,
        source=f"{PRESTON}, against k F v T/A",
        known="computed by two routes",
    ),
    Case(
        "the same as mm³ for each newton and metre",
        lambda: removal_rate_mm3_s(IMPLIED_M2_N, 1.0, 1.0),
        0.002537546924296801,
        source="1 m²/N is 1e9 mm³/(N m)",
        known="computed",
    ),
    Case(
        "published fused silica value, 1.6e-13 cm²/dyn, as removal of 1 kPa over 1 km",
        lambda: removed_um(FUSED_SILICA_CM2_DYN * 1e-4 / 1e-5, 1.0, 1000.0),
        1.6,
        source="a published value for fused silica, ceria and pitch of 16e-14 cm³/(dyn cm)",
        known="read, recomputed",
    ),
    Case(
        "half the force",
        lambda: removal_ratio(REFERENCE, replace(REFERENCE, force_n=20)),
        0.5,
        source=PRESTON,
        known="computed",
    ),
    Case(
        "six passes",
        lambda: removal_ratio(REFERENCE, replace(REFERENCE, passes=6)),
        1.5,
        source=PRESTON,
        known="computed",
    ),
    Case(
        "half the pad with the same force, arm speed and half overlap",
        lambda: removal_ratio(REFERENCE, replace(REFERENCE, pad_mm=75)),
        2.0,
        source=PRESTON,
        known="computed",
    ),
    Case(
        "volume each second",
        lambda: removal_rate_mm3_s(IMPLIED_M2_N, 40, REFERENCE.mean_m_s),
        0.46874999999999994,
        source="k F v, against k p v A of another pad",
        known="computed by two routes",
    ),
    Case(
        "volume of a micrometre over a 45 cm section",
        lambda: removed_volume_mm3(1.0, 450),
        202.5,
        source="depth × area",
        known="computed",
    ),
]


@each(CASES)
def test_removal_is_the_worked_one(case: Case) -> None:
    case.check()


def test_the_volume_each_second_does_not_depend_on_the_pad() -> None:
    def through_pressure(pad_mm: float) -> float:
        area_mm2 = 3.141592653589793 * pad_mm**2 / 4
        return removed_um(IMPLIED_M2_N, flat_pressure_kpa(40, pad_mm), 4.6) / 1000 * area_mm2

    expected = removal_rate_mm3_s(IMPLIED_M2_N, 40, 4.6)
    for pad_mm in (50, 75, 150):
        assert abs(through_pressure(pad_mm) - expected) < 1e-9 * expected
