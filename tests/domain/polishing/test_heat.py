"""Which model of heat is used, and how each behaves at its ends."""

from __future__ import annotations

from math import inf

import pytest

from academy.domain.polishing import heat
from academy.domain.polishing.infrared import infrared_reading_c
from academy.domain.polishing.materials import ABS, ALUMINIUM, STEEL, PanelMaterial


def test_metal_is_warm_all_through_and_has_no_plastic_models() -> None:
    rise = heat.panel_rise(PanelMaterial.STEEL, 4000, 0.7, 10)

    assert rise.rise_k == rise.rise_lumped_k
    assert rise.rise_half_space_k is None
    assert rise.rise_slab_k is None


@pytest.mark.parametrize("material", [PanelMaterial.ABS, PanelMaterial.PP])
@pytest.mark.parametrize("seconds", [0.1, 5, 60])
def test_plastic_shows_both_models_and_the_larger_counts(
    material: PanelMaterial, seconds: float
) -> None:
    rise = heat.panel_rise(material, 4000, 2, seconds)

    assert rise.rise_half_space_k is not None
    assert rise.rise_slab_k is not None
    assert rise.rise_k == max(rise.rise_half_space_k, rise.rise_slab_k)
    assert rise.rise_lumped_k is None


@pytest.mark.parametrize("material", PanelMaterial)
def test_no_time_and_no_flux_are_no_rise(material: PanelMaterial) -> None:
    assert heat.panel_rise(material, 4000, 1, 0).rise_k == 0
    assert heat.panel_rise(material, 0, 1, 10).rise_k == 0


def test_a_slab_starts_as_a_half_space_and_ends_as_a_lump() -> None:
    assert heat.rise_slab_k(ABS, 4000, 3, 0.01) == pytest.approx(
        heat.rise_half_space_k(ABS, 4000, 0.01), rel=1e-12
    )
    assert heat.rise_slab_k(ABS, 4000, 3, 5000) == pytest.approx(
        heat.rise_lumped_k(ABS, 4000, 3, 5000), rel=0.01
    )


def test_a_longer_hold_is_never_cooler() -> None:
    rises = [heat.rise_slab_k(ABS, 4000, 2, tenths / 10) for tenths in range(400)]

    assert rises == sorted(rises)


def test_plastic_is_hotter_than_steel_until_steel_catches_up() -> None:
    catches_up_s = heat.metal_catches_up_s(STEEL, 0.7, ABS)

    def hotter(seconds: float) -> bool:
        plastic = heat.rise_half_space_k(ABS, 4000, seconds)
        return plastic > heat.rise_lumped_k(STEEL, 4000, 0.7, seconds)

    assert hotter(0.9 * catches_up_s)
    assert not hotter(1.1 * catches_up_s)


def test_thin_steel_and_thicker_aluminium_hold_nearly_the_same_heat() -> None:
    assert STEEL.areal_j_m2_k(0.7) == pytest.approx(ALUMINIUM.areal_j_m2_k(1.0), rel=0.07)


def test_a_reading_at_once_shows_all_and_a_late_one_little() -> None:
    assert heat.fraction_left(5, 0) == 1
    assert heat.fraction_left(5, 3600) == pytest.approx(0.0186, abs=1e-4)


def test_a_panel_that_loses_no_heat_has_no_steady_rise() -> None:
    assert heat.steady_rise_k(70, 500, loss_w_m2_k=0) == inf


def test_a_right_setting_reads_the_true_temperature_and_bare_metal_nearly_the_room() -> None:
    assert infrared_reading_c(48, 0.95, 0.95, 15) == pytest.approx(48)
    assert infrared_reading_c(60, 0.1, 0.95, 20) < 26
