"""Heat under the pad against worked values and against stepping the heat equation."""

from __future__ import annotations

from collections.abc import Callable
from math import pi

import numpy as np
import pytest
from numpy.typing import NDArray

from academy.domain.polishing import heat
from academy.domain.polishing.infrared import infrared_reading_c
from academy.domain.polishing.kinematics import orbit_speed_m_s, rim_speed_m_s, rotary_speed
from academy.domain.polishing.materials import (
    ABS,
    ALUMINIUM,
    CLEAR_COAT,
    FOAM,
    POLYPROPYLENE,
    STEEL,
    Material,
)
from academy.domain.polishing.pressure import pressure_on_share
from tests.support.reference_case import Case, each

DUAL_ACTION = heat.friction_heat(40, 150, orbit_speed_m_s(21, 4200), 0.4)
ROTARY = heat.friction_heat(40, 150, rotary_speed(150, 1500).mean_m_s, 0.4)
# A fifth of the face loaded near the rim, at 0.85 of the rim's speed.
TILTED_W_M2 = (
    0.4 * 1000 * pressure_on_share(40, 150, 0.2).pressure_kpa * 0.85 * rim_speed_m_s(150, 1500)
)

HANDBOOK = "handbook values of conductivity, density and heat capacity, rounded"
CARSLAW = "Carslaw & Jaeger 1959, Conduction of Heat in Solids"

MATERIALS = [
    Case(
        f"diffusivity of {name}",
        lambda material=material: material.diffusivity_m2_s,  # type: ignore[misc]
        diffusivity,
        source=f"α = k/(ρ c), {HANDBOOK}",
        known="read, recomputed" if name in ("ABS", "clear coat") else "from memory",
    )
    for name, material, diffusivity in [
        ("steel", STEEL, 1.3551971811898631e-05),
        ("aluminium", ALUMINIUM, 6.17283950617284e-05),
        ("clear coat", CLEAR_COAT, 1.1299435028248588e-07),
        ("ABS", ABS, 1.849112426035503e-07),
        ("polypropylene", POLYPROPYLENE, 1.1049723756906078e-07),
        ("foam", FOAM, 4.666666666666667e-07),
    ]
] + [
    Case(
        f"effusivity of {name}",
        lambda material=material: material.effusivity,  # type: ignore[misc]
        effusivity,
        source=f"√(k ρ c), {HANDBOOK}",
        known="computed",
        relative=0.0,
        absolute=0.5,
    )
    for name, material, effusivity in [
        ("steel", STEEL, 13582),
        ("aluminium", ALUMINIUM, 19092),
        ("clear coat", CLEAR_COAT, 595),
        ("ABS", ABS, 581),
        ("polypropylene", POLYPROPYLENE, 602),
        ("foam", FOAM, 51),
    ]
]

MADE = [
    Case(
        "flux of a dual action",
        lambda: DUAL_ACTION.flux_w_m2,
        4181.333333333333,
        source="q = μ p v, against power over area",
        known="computed by two routes",
    ),
    Case(
        "power of a dual action",
        lambda: DUAL_ACTION.power_w,
        73.89025921243193,
        source="P = μ F v",
        known="computed",
    ),
    Case(
        "flux of a rotary",
        lambda: ROTARY.flux_w_m2,
        7111.111111111111,
        source="q = μ p 2/3 v_rim",
        known="computed",
    ),
    Case(
        "power of a rotary",
        lambda: ROTARY.power_w,
        125.66370614359171,
        source="P = μ F 2/3 v_rim",
        known="computed",
    ),
    Case(
        "flux of a rotary tilted on its rim",
        lambda: TILTED_W_M2,
        45333.33333333332,
        source="q = μ (p/0.2)(0.85 v_rim)",
        known="computed",
    ),
    Case(
        "share that enters the paint from dry foam",
        lambda: heat.share_into_paint(CLEAR_COAT, FOAM),
        0.9207154688029815,
        source=f"effusivities, {CARSLAW}",
        known="computed",
    ),
]

STILL = [
    Case(
        f"{what} on {name} for {seconds} s",
        lambda m=material, q=flux, t=seconds: heat.rise_half_space_k(m, q, t),  # type: ignore[misc]
        expected,
        source=f"2 q √(α t/π)/k, {CARSLAW}, section 2.9, against implicit finite differences",
        known="computed by two routes",
    )
    for what, flux, name, material, seconds, expected in [
        ("dual action", 4181.333333333333, "ABS", ABS, 1, 8.11542932210792),
        ("dual action", 4181.333333333333, "ABS", ABS, 5, 18.146651630828345),
        ("dual action", 4181.333333333333, "PP", POLYPROPYLENE, 10, 24.797937704842486),
        ("tilted rotary", 45333.33333333332, "ABS", ABS, 1, 87.98615974224145),
    ]
] + [
    Case(
        f"{what} on {name} {thickness_mm} mm for {seconds} s",
        lambda m=material, q=flux, d=thickness_mm, t=seconds: heat.rise_lumped_k(m, q, d, t),  # type: ignore[misc]
        expected,
        source="q t/(ρ c δ)",
        known="computed",
    )
    for what, flux, name, material, thickness_mm, seconds, expected in [
        ("dual action", 4181.333333333333, "steel", STEEL, 0.7, 1, 1.6190088991281564),
        ("dual action", 4181.333333333333, "steel", STEEL, 0.7, 10, 16.190088991281563),
        ("dual action", 4181.333333333333, "steel", STEEL, 0.7, 60, 97.14053394768938),
        ("rotary", 7111.111111111111, "steel", STEEL, 0.7, 10, 27.534164951159124),
        ("tilted rotary", 45333.33333333332, "aluminium", ALUMINIUM, 1.0, 1, 18.6556927297668),
    ]
]

AROUND_IT = [
    Case(
        "when 0.7 mm steel is as warm as ABS",
        lambda: heat.metal_catches_up_s(STEEL, 0.7, ABS),
        25.12606782377086,
        source="both rises equal",
        known="computed by two routes",
    ),
    Case(
        "drop across a 110 µm film",
        lambda: heat.film_drop_k(CLEAR_COAT, DUAL_ACTION.flux_w_m2, 110),
        2.299733333333333,
        source="q δ/k",
        known="computed",
    ),
    Case(
        "response of a 110 µm film",
        lambda: heat.film_response_s(CLEAR_COAT, 110),
        0.107085,
        source="δ²/α",
        known="computed",
    ),
    Case(
        "steel section of 50 cm after a minute of moving",
        lambda: heat.rise_of_section_k(STEEL, DUAL_ACTION.power_w, 0.7, 500, 60),
        6.866459725856645,
        source="P t/(ρ c δ A)",
        known="computed",
    ),
    Case(
        "steady rise of a 50 cm section",
        lambda: heat.steady_rise_k(DUAL_ACTION.power_w, 500),
        14.778051842486386,
        source="P/(2 h A), h 10 W/(m² K) a face",
        known="computed",
    ),
    Case(
        "cooling time of a 0.7 mm steel panel",
        lambda: heat.cooling_time_s(STEEL, 0.7),
        129.1325,
        source="ρ c δ/(2 h), h 10 W/(m² K) a face",
        known="computed",
    ),
]

LATE = [
    Case(
        f"left {waited} s after {heated} s",
        lambda heated=heated, waited=waited: heat.fraction_left(heated, waited),  # type: ignore[misc]
        expected,
        source="(√(t₀ + Δ) − √Δ)/√t₀, against implicit finite differences",
        known="computed by two routes",
    )
    for heated, waited, expected in [
        (5, 3, 0.49031439482586847),
        (10, 3, 0.5924528675939718),
    ]
] + [
    Case(
        "left 1 s after 5 s, as lessons print it",
        lambda: heat.fraction_left(5, 1),
        0.65,
        source="the same formula",
        known="computed",
        relative=0.0,
        absolute=0.005,
    )
]

INFRARED = [
    Case(
        f"60 °C seen with emissivity {true} set to {setting}",
        lambda true=true, setting=setting: infrared_reading_c(60, true, setting, 20),  # type: ignore[misc]
        expected,
        source="grey body in surroundings of 20 °C",
        known="computed",
    )
    for true, setting, expected in [
        (0.9, 0.95, 58.230405066643016),
        (0.95, 0.95, 60.0),
        (0.1, 0.95, 25.022804711236518),
        (0.95, 0.9, 61.83781238141955),
    ]
]


@each(MATERIALS + MADE + STILL + AROUND_IT + LATE + INFRARED)
def test_heat_is_the_worked_one(case: Case) -> None:
    case.check()


def rise_by_stepping_k(
    material: Material, depth_mm: float, seconds: float, flux_w_m2: Callable[[float], float]
) -> float:
    """Step the heat equation (Crank-Nicolson) in a sheet with an insulated back; return the face's rise."""
    from scipy.linalg import solve_banded

    cells, steps = 600, 2000
    width_m, step_s = depth_mm / 1000 / cells, seconds / steps
    number = material.diffusivity_m2_s * step_s / width_m**2
    diagonal = np.full(cells, 2.0)
    diagonal[[0, -1]] = 1.0
    banded = np.zeros((3, cells))
    banded[0, 1:] = banded[2, :-1] = -number / 2
    banded[1] = 1 + number / 2 * diagonal
    rise = np.zeros(cells)
    for step in range(steps):
        spread = -diagonal * rise
        spread[1:] += rise[:-1]
        spread[:-1] += rise[1:]
        right = rise + number / 2 * spread
        heated = flux_w_m2((step + 0.5) * step_s) * step_s
        right[0] += heated / (material.volumetric_j_m3_k * width_m)
        rise = solve_banded((1, 1), banded, right)
    # From the first cell's centre to the face.
    return float(1.5 * rise[0] - 0.5 * rise[1]) if seconds else 0.0


@pytest.mark.parametrize(("material", "seconds"), [(ABS, 1), (ABS, 5), (POLYPROPYLENE, 10)])
def test_the_half_space_is_what_stepping_a_thick_sheet_gives(
    material: Material, seconds: float
) -> None:
    stepped = rise_by_stepping_k(material, 25, seconds, lambda _: 4181.333)

    assert heat.rise_half_space_k(material, 4181.333, seconds) == pytest.approx(stepped, rel=0.02)


@pytest.mark.parametrize("seconds", [0.5, 3, 6.4, 6.6, 20, 30, 120])
def test_the_slab_is_what_stepping_the_sheet_gives_on_both_sides_of_the_change(
    seconds: float,
) -> None:
    # The series change at a Fourier number of 0.3, 6.49 s for 2 mm of ABS.
    stepped = rise_by_stepping_k(ABS, 2, seconds, lambda _: 4181.333)

    assert heat.rise_slab_k(ABS, 4181.333, 2, seconds) == pytest.approx(stepped, rel=0.002)


def test_both_series_of_the_slab_agree_where_they_meet() -> None:
    change_s = heat.FOURIER_NUMBER_OF_CHANGE * 0.002**2 / ABS.diffusivity_m2_s
    before, after = (
        heat.rise_slab_k(ABS, 4181.333, 2, change_s * (1 + side)) for side in (-1e-12, 1e-12)
    )

    assert before == pytest.approx(after, rel=1e-11)


@pytest.mark.parametrize(("seconds", "percent_low"), [(20, 14), (30, 23)])
def test_the_half_space_is_low_on_two_millimetres_of_abs(
    seconds: float, percent_low: float
) -> None:
    half_space = heat.rise_half_space_k(ABS, 4181.333, seconds)
    slab = heat.rise_slab_k(ABS, 4181.333, 2, seconds)

    assert 100 * (1 - half_space / slab) == pytest.approx(percent_low, abs=0.5)


@pytest.mark.parametrize(("heated_s", "waited_s"), [(5, 1), (5, 3), (10, 3)])
def test_what_is_left_is_what_stepping_gives_after_the_pad_left(
    heated_s: float, waited_s: float
) -> None:
    def flux_w_m2(at_s: float) -> float:
        return 4000.0 if at_s < heated_s else 0.0

    peak = rise_by_stepping_k(ABS, 25, heated_s, flux_w_m2)
    later = rise_by_stepping_k(ABS, 25, heated_s + waited_s, flux_w_m2)

    assert heat.fraction_left(heated_s, waited_s) == pytest.approx(later / peak, rel=0.01)


def rise_under_the_pad_k(
    metal: Material, thickness_mm: float, seconds: float
) -> NDArray[np.float64]:
    """Step radial finite volumes of a wide sheet with a still pad and 10 W/(m² K) lost a face.

    Returns the rise of each ring under the pad, rings of equal width.
    """
    from scipy.linalg import solve_banded

    rings, ring_m, step_s = 400, 0.001, 0.05
    edges = np.arange(rings + 1) * ring_m
    area = pi * np.diff(edges**2)
    holds = metal.areal_j_m2_k(thickness_mm) * area
    between = metal.conductivity_w_m_k * thickness_mm / 1000 * 2 * pi * edges[1:-1] / ring_m
    under = edges[1:] <= 0.075 + 1e-9
    banded = np.zeros((3, rings))
    banded[0, 1:] = banded[2, :-1] = -between * step_s
    banded[1] = holds + 2 * 10 * area * step_s
    banded[1, :-1] += between * step_s
    banded[1, 1:] += between * step_s
    rise = np.zeros(rings)
    for _ in range(round(seconds / step_s)):
        made = DUAL_ACTION.flux_w_m2 * area * under * step_s
        rise = solve_banded((1, 1), banded, holds * rise + made)
    return np.asarray(rise[under])


@pytest.mark.parametrize(
    ("metal", "thickness_mm", "seconds", "over_radius_k", "centre_k"),
    [
        pytest.param(STEEL, 0.7, 10, 14.57532713577648, 15.6, id="steel 10 s"),
        pytest.param(STEEL, 0.7, 30, 38.06155897445527, 43.1, id="steel 30 s"),
        pytest.param(ALUMINIUM, 1.0, 10, 13.81742991963255, 16.1, id="aluminium 10 s"),
        pytest.param(ALUMINIUM, 1.0, 30, 30.57577601446808, 36.5, id="aluminium 30 s"),
    ],
)
def test_the_lumped_rise_is_an_upper_bound_of_a_sheet_that_conducts_and_loses_heat(
    metal: Material, thickness_mm: float, seconds: float, over_radius_k: float, centre_k: float
) -> None:
    rise = rise_under_the_pad_k(metal, thickness_mm, seconds)
    lumped = heat.rise_lumped_k(metal, DUAL_ACTION.flux_w_m2, thickness_mm, seconds)

    # The worked means are over the radius, not over the area (which is lower by a tenth).
    assert rise.mean() == pytest.approx(over_radius_k, rel=0.001)
    assert rise[0] == pytest.approx(centre_k, abs=0.05)
    assert rise.max() < lumped < 1.5 * rise.max()
