"""Pressure under the pad against worked values and a sampled area."""

from __future__ import annotations

import numpy as np
import pytest

from academy.domain.polishing.pressure import (
    flat_pressure_kpa,
    pressure_at_edge,
    pressure_on_share,
    pressure_on_strip,
    share_on_panel,
    weight_n,
)
from tests.support.reference_case import Case, each

FLAT = [
    Case(
        f"{force_n} N on {pad_mm} mm",
        lambda force_n=force_n, pad_mm=pad_mm: flat_pressure_kpa(force_n, pad_mm),  # type: ignore[misc]
        expected,
        source="p = F/(π r²)",
        known="computed by two routes",
    )
    for force_n, pad_mm, expected in [
        (40, 150, 2.263536968418067),
        (60, 150, 3.3953054526271003),
        (40, 180, 1.5719006725125464),
        (40, 50, 20.3718327157626),
        (50, 130, 3.7669809015833216),
    ]
]

ELSEWHERE = [
    Case(
        "40 N tilted onto a fifth of a 150 mm face",
        lambda: pressure_on_share(40, 150, 0.2).pressure_kpa,
        11.317684842090333,
        source="force over a fifth of the area",
        known="computed by two routes",
    ),
    Case(
        "weight of a 2.6 kg machine",
        lambda: weight_n(2.6),
        25.506,
        source="F = m g with 9.81 m/s²",
        known="computed",
    ),
    Case(
        "factor with the centre a radius inside the edge",
        lambda: pressure_at_edge(40, 150, -75).factor,
        1.0,
        source="circular segment, against a sampled area",
        known="computed by two routes",
    ),
    Case(
        "factor with the centre on the edge",
        lambda: pressure_at_edge(40, 150, 0).factor,
        2.0,
        source="circular segment, against a sampled area",
        known="computed by two routes",
    ),
    Case(
        "pressure on a 20 mm crown strip",
        lambda: pressure_on_strip(40, 150, 20).pressure_kpa,
        13.333333333333334,
        source="force over strip × chord",
        known="computed",
    ),
    Case(
        "factor on a 20 mm crown strip",
        lambda: pressure_on_strip(40, 150, 20).factor,
        5.8904862254808625,
        source="force over strip × chord",
        known="computed",
    ),
]


@each(FLAT + ELSEWHERE)
def test_pressure_is_the_worked_one(case: Case) -> None:
    case.check()


@pytest.mark.parametrize("overhang_mm", [-70.0, -40.0, -10.0, 0.0, 25.0, 50.0, 70.0])
def test_the_share_on_the_panel_is_what_sampling_the_disc_gives(overhang_mm: float) -> None:
    rng = np.random.default_rng(7)
    radius, bearing = 75 * np.sqrt(rng.random(400_000)), 2 * np.pi * rng.random(400_000)
    sampled = np.mean(radius * np.cos(bearing) + overhang_mm <= 0)

    assert share_on_panel(150, overhang_mm) == pytest.approx(sampled, abs=0.003)


def test_strip_times_diameter_is_close_to_the_true_area_while_the_strip_is_narrow() -> None:
    rng = np.random.default_rng(8)
    radius, bearing = 75 * np.sqrt(rng.random(400_000)), 2 * np.pi * rng.random(400_000)
    sampled = np.mean(np.abs(radius * np.cos(bearing)) <= 10)

    assert 1 / pressure_on_strip(40, 150, 20).factor == pytest.approx(sampled, rel=0.01)
