"""Hand-arm vibration against the directive, the ready-reckoner and worked values."""

from __future__ import annotations

import pytest

from academy.domain.exposure.vibration import (
    ACTION_VALUE_M_S2,
    LIMIT_VALUE_M_S2,
    VibrationExposure,
    a8_from_points,
    daily_vibration,
    hours_to_reach,
    vector_total_m_s2,
)
from tests.support.reference_case import Case, each

DIRECTIVE = "Directive 2002/44/EC, article 3 and annex A.1"
RECKONER = "HSE exposure ready-reckoner, points 2 a² T"


def points(magnitude_m_s2: float, hours: float) -> float:
    """Return the points of one machine."""
    return daily_vibration([VibrationExposure(magnitude_m_s2, hours)]).points


def a8(magnitude_m_s2: float, hours: float) -> float:
    """Return the A(8) of one machine."""
    return daily_vibration([VibrationExposure(magnitude_m_s2, hours)]).a8_m_s2


DAILY = [
    Case(
        f"A(8) of {magnitude} m/s² for {hours} h",
        lambda magnitude=magnitude, hours=hours: a8(magnitude, hours),  # type: ignore[misc]
        expected,
        source=DIRECTIVE,
        known="read, recomputed",
    )
    for magnitude, hours, expected in [(2.5, 8, 2.5), (5, 8, 5.0), (10, 2, 5.0)]
]

POINTS = [
    Case(
        f"points of {magnitude} m/s² for {hours} h",
        lambda magnitude=magnitude, hours=hours: points(magnitude, hours),  # type: ignore[misc]
        expected,
        source=RECKONER,
        known="read" if (magnitude, hours) == (5, 3) else "computed",
    )
    for magnitude, hours, expected in [
        (5, 3, 150.0),
        (9, 1, 162.0),
        (12, 0.5, 144.0),
        (15, 2, 900.0),
        (20, 0.25, 200.0),
        (30, 0.25, 450.0),
        (40, 0.25, 800.0),
        (2.5, 1, 12.5),
        (4, 1, 32.0),
        (6, 1, 72.0),
    ]
]

BACK = [
    Case(
        f"A(8) of {count} points",
        lambda count=count: a8_from_points(count),  # type: ignore[misc]
        expected,
        source="2.5 √(points/100), from the two definitions",
        known="computed",
        relative=0.0,
        absolute=1e-6,
    )
    for count, expected in [(100, 2.5), (150, 3.061862), (400, 5.0)]
]

TIMES = [
    Case(
        f"minutes of {magnitude} m/s² to {value} m/s²",
        lambda magnitude=magnitude, value=value: 60 * hours_to_reach(value, magnitude),  # type: ignore[misc]
        expected,
        source="a tool maker's published table of times (maker not named)",
        known="read, recomputed",
    )
    for value, rows in [
        (
            ACTION_VALUE_M_S2,
            [(20, 7.5), (8, 46.875), (5, 120), (2.5, 480), (4, 187.5), (6, 250 / 3)],
        ),
        (LIMIT_VALUE_M_S2, [(20, 30), (8, 187.5), (5, 480), (2.5, 1920), (4, 750), (6, 1000 / 3)]),
    ]
    for magnitude, expected in rows
]

AXES = [
    Case(
        "total of axes 2, 3 and 6 m/s²",
        lambda: vector_total_m_s2(2, 3, 6),
        7.0,
        source="root of the sum of squares, ISO 5349-1 as used by the directive",
        known="read, recomputed",
    )
]


@each(DAILY + POINTS + BACK + TIMES + AXES)
def test_vibration_is_the_published_one(case: Case) -> None:
    case.check()


def test_the_action_and_limit_values_are_the_directives() -> None:
    # Directive 2002/44/EC, article 3; 100 and 400 points in the HSE ready-reckoner.
    assert (ACTION_VALUE_M_S2, LIMIT_VALUE_M_S2) == (2.5, 5.0)
    assert points(ACTION_VALUE_M_S2, 8) == pytest.approx(100)
    assert points(LIMIT_VALUE_M_S2, 8) == pytest.approx(400)


@pytest.mark.parametrize(
    ("magnitude", "row"),
    [
        (1, [0.5, 1, 2, 4, 6, 8, 10, 12, 16]),
        (2.5, [3.125, 6.25, 12.5, 25, 37.5, 50, 62.5, 75, 100]),
        (3.5, [6.125, 12.25, 24.5, 49, 73.5, 98, 122.5, 147, 196]),
        (5.5, [15.125, 30.25, 60.5, 121, 181.5, 242, 302.5, 363, 484]),
        (7, [24.5, 49, 98, 196, 294, 392, 490, 588, 784]),
        (20, [200, 400, 800, 1600, 2400, 3200, 4000, 4800, 6400]),
    ],
)
def test_rows_of_the_reckoner_follow_the_formula(magnitude: float, row: list[float]) -> None:
    # The reckoner's layout; computed from its formula, the printed cells are rounded.
    hours = [0.25, 0.5, 1, 2, 3, 4, 5, 6, 8]

    assert [points(magnitude, time) for time in hours] == pytest.approx(row)
