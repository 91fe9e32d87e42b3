"""Dew point, dilution, roughness, resolution and grain against tables and worked values."""

from __future__ import annotations

import pytest

from academy.domain.conditions.dew_point import (
    dew_point_by_thumb_c,
    dew_point_c,
    dew_point_from_wet_bulb_c,
    panel_margin,
    saturation_hpa,
)
from academy.domain.conditions.dilution import mixture, percent_of_ratio
from academy.domain.conditions.seeing import smallest_width_um, specular_loss
from academy.domain.polishing.abrasives import MEDIAN_GRAIN_UM, relative_scratch_depth
from tests.support.reference_case import Case, each

MAGNUS = "Magnus formula, Alduchov & Eskridge 1996: 17.625 and 243.04 °C"


def fahrenheit_dew_point(air_f: float, rh_percent: float) -> float:
    """Return the dew point in °F."""
    return dew_point_c((air_f - 32) / 1.8, rh_percent) * 1.8 + 32


AIR = [
    # air, humidity, the formula's value, the other usual pair of constants, the printed whole degree
    (20, 50, 9.261106630534236, 9.255174598981256, 9),
    (20, 70, 14.36232570371226, 14.359183217771522, 14),
    (25, 50, 13.857612540147446, 13.851583599891661, 13),
    (25, 80, 21.308910361242013, 21.306887199560098, 21),
    (30, 80, 26.17090291101373, 26.168845923147636, 26),
    (15, 50, 4.657461005144548, 4.6516264325434, 4),
    (35, 70, 28.70869887421452, 28.70539816426444, 28),
    (30, 55, 19.97726070566527, 19.97193282206202, 20),
]

FORMULA = [
    Case(
        f"dew point at {air} °C and {humidity} %",
        lambda air=air, humidity=humidity: dew_point_c(air, humidity),  # type: ignore[misc]
        expected,
        source=MAGNUS,
        known="computed",
    )
    for air, humidity, expected, _, _ in AIR
]
OTHER_CONSTANTS = [
    Case(
        f"dew point at {air} °C and {humidity} %, by other constants",
        lambda air=air, humidity=humidity: dew_point_c(air, humidity),  # type: ignore[misc]
        expected,
        source="Magnus formula with 17.62 and 243.12 °C, the other pair in use",
        known="computed",
        relative=0.0,
        absolute=0.01,
    )
    for air, humidity, _, expected, _ in AIR
]
# Whole degrees, some cut and some rounded, so within one.
PRINTED = [
    Case(
        f"printed dew point at {air} °C and {humidity} %",
        lambda air=air, humidity=humidity: dew_point_c(air, humidity),  # type: ignore[misc]
        printed,
        source="dew-point chart of a paint inspection guide, whole degrees Celsius",
        known="read",
        relative=0.0,
        absolute=1.0,
    )
    for air, humidity, _, _, printed in AIR
] + [
    Case(
        f"printed dew point at {air} °F and {humidity} %",
        lambda air=air, humidity=humidity: fahrenheit_dew_point(air, humidity),  # type: ignore[misc]
        printed,
        source="dew-point chart of a paint inspection guide, whole degrees Fahrenheit",
        known="read",
        relative=0.0,
        absolute=1.0,
    )
    for air, humidity, printed in [
        (70, 65, 57),
        (70, 50, 50),
        (80, 50, 59),
        (60, 80, 54),
        (90, 70, 79),
    ]
]
FAHRENHEIT = [
    Case(
        f"dew point at {air} °F and {humidity} %",
        lambda air=air, humidity=humidity: fahrenheit_dew_point(air, humidity),  # type: ignore[misc]
        expected,
        source=MAGNUS,
        known="computed",
    )
    for air, humidity, expected in [
        (70, 65, 57.69610333735055),
        (70, 50, 50.50970386802021),
        (80, 50, 59.6987553977239),
        (60, 80, 53.81299071354324),
        (90, 70, 78.89829126250677),
    ]
]
WET_BULB = [
    Case(
        "dew point from 21 °C dry and 17 °C wet",
        lambda: dew_point_from_wet_bulb_c(21, 17),
        14.622050925702107,
        source="psychrometer equation with Ferrel's coefficient",
        known="computed",
    ),
    Case(
        "printed dew point from 21 °C dry and 17 °C wet",
        lambda: dew_point_from_wet_bulb_c(21, 17),
        15,
        source="psychrometer chart, whole degrees",
        known="read",
        relative=0.0,
        absolute=1.0,
    ),
    Case(
        "rule of thumb at 20 °C and 60 %",
        lambda: dew_point_by_thumb_c(20, 60),
        11.999894615745436,
        source="T − (100 − RH)/5 (Lawrence 2005, BAMS 86, 225) against Magnus",
        known="computed by two routes",
        relative=0.01,
    ),
]

MIXED = [
    Case(
        f"99 % stock for a litre of {target} %",
        lambda target=target: mixture(99, target, 1000).stock_ml,  # type: ignore[misc]
        expected,
        source="volumes, shrinking ignored",
        known="computed",
    )
    for target, expected in [(15, 151.5151515151515), (25, 252.5252525252525)]
] + [
    Case(
        f"1:{ratio} of a neat concentrate",
        lambda ratio=ratio: percent_of_ratio(ratio),  # type: ignore[misc]
        expected,
        source="100/(1 + r)",
        known="computed",
    )
    for ratio, expected in [
        (1, 50.0),
        (4, 20.0),
        (10, 9.090909090909092),
        (20, 4.761904761904762),
    ]
]

SEEN = [
    Case(
        f"mirror reflection lost at {roughness} nm",
        lambda roughness=roughness: specular_loss(roughness, 550),  # type: ignore[misc]
        expected,
        source="1 − exp(−(4 π σ/λ)²), Bennett & Porteus 1961, J. Opt. Soc. Am. 51, 123",
        known="from memory",
    )
    for roughness, expected in [(5, 0.012965925225398411), (20, 0.18845177354622455)]
] + [
    Case(
        f"width of an arc-minute at {distance} m",
        lambda distance=distance: smallest_width_um(distance),  # type: ignore[misc]
        expected,
        source="d tan 1′",
        known="computed",
    )
    for distance, expected in [
        (0.3, 87.26646506109478),
        (0.6, 174.53293012218955),
        (1.0, 290.88821687031594),
        (1.5, 436.33232530547383),
    ]
]

GRAIN = [
    Case(
        f"{grade} against P2000",
        lambda grade=grade: relative_scratch_depth(grade),  # type: ignore[misc]
        expected,
        source="median grain of FEPA 43-1 and ISO 6344; depth in proportion to it is assumed",
        known="computed",
    )
    for grade, expected in [
        ("P800", 2.116504854368932),
        ("P1000", 1.7766990291262135),
        ("P1200", 1.4854368932038835),
        ("P1500", 1.2233009708737863),
        ("P2000", 1.0),
        ("P2500", 0.8155339805825242),
    ]
]


@each(FORMULA + OTHER_CONSTANTS + PRINTED + FAHRENHEIT + WET_BULB + MIXED + SEEN + GRAIN)
def test_the_surroundings_are_the_worked_ones(case: Case) -> None:
    case.check()


@pytest.mark.parametrize(
    ("panel_c", "air_c", "rh_percent", "margin_k"),
    [(15.5, 20, 60, 3.5), (24.5, 25, 80, 3.19), (10.0, 10, 80, 3.29)],
)
def test_panels_over_the_margin_of_three_kelvin_may_be_coated(
    panel_c: float, air_c: float, rh_percent: float, margin_k: float
) -> None:
    # 3 K: attributed to ISO 8502-4 by trade pages; its use for cars is common practice, no source.
    margin = panel_margin(panel_c, dew_point_c(air_c, rh_percent))

    assert margin.margin_k == pytest.approx(margin_k, abs=0.005)
    assert margin.enough


def test_the_dew_point_inverts_the_vapour_pressure_by_bisection() -> None:
    for air_c, rh_percent in [(-20.0, 80.0), (5.0, 30.0), (20.0, 60.0), (45.0, 15.0)]:
        wanted, low, high = rh_percent / 100 * saturation_hpa(air_c), -90.0, 60.0
        for _ in range(80):
            middle = (low + high) / 2
            low, high = (middle, high) if saturation_hpa(middle) < wanted else (low, middle)
        assert dew_point_c(air_c, rh_percent) == pytest.approx(low, abs=1e-9)


def test_finer_grades_have_finer_grains() -> None:
    # FEPA 43-1 and ISO 6344, median grain; read in a trade table.
    assert [MEDIAN_GRAIN_UM[grade] for grade in ("P1500", "P2000", "P2500")] == [12.6, 10.3, 8.4]
