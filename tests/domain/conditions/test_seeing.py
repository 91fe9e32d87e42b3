"""What roughness and distance do to what is seen."""

from __future__ import annotations

import pytest

from academy.domain.conditions.seeing import smallest_width_um, specular_loss


def test_a_perfect_surface_loses_nothing_and_a_rough_one_nearly_all() -> None:
    assert specular_loss(0) == 0
    assert specular_loss(200) > 0.99


def test_shorter_waves_lose_more() -> None:
    assert specular_loss(20, 450) > specular_loss(20, 650)


def test_twice_as_far_twice_as_wide() -> None:
    assert smallest_width_um(2) == pytest.approx(2 * smallest_width_um(1))
