"""Panel materials and sanding grades."""

from __future__ import annotations

from itertools import pairwise

import pytest

from academy.domain.polishing.abrasives import MEDIAN_GRAIN_UM, relative_scratch_depth
from academy.domain.polishing.materials import CLEAR_COAT, FOAM, PanelMaterial


def test_only_steel_and_aluminium_are_metal() -> None:
    assert [material.value for material in PanelMaterial if material.is_metal] == [
        "steel",
        "aluminium",
    ]


def test_metal_spreads_heat_more_than_fifty_times_as_fast_as_plastic() -> None:
    slowest_metal = PanelMaterial.STEEL.properties.diffusivity_m2_s

    for plastic in (PanelMaterial.ABS, PanelMaterial.PP):
        assert slowest_metal > 50 * plastic.properties.diffusivity_m2_s


def test_paint_takes_heat_up_far_more_readily_than_foam() -> None:
    assert CLEAR_COAT.effusivity > 10 * FOAM.effusivity


def test_a_higher_grade_is_always_finer() -> None:
    grades = sorted(MEDIAN_GRAIN_UM, key=lambda grade: int(grade.removeprefix("P")))

    assert all(MEDIAN_GRAIN_UM[coarse] > MEDIAN_GRAIN_UM[fine] for coarse, fine in pairwise(grades))


def test_an_unknown_grade_has_no_depth() -> None:
    with pytest.raises(KeyError, match="P90"):
        relative_scratch_depth("P90")
