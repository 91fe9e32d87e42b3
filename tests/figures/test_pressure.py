"""The three pressure figures hatch what touches and print what the pressure model says."""

from __future__ import annotations

import pytest

from academy.domain.polishing.pressure import (
    pressure_at_edge,
    pressure_on_share,
    pressure_on_strip,
    share_on_panel,
)
from academy.figures import check, draw
from academy.figures.pressure_tilted import chord_of_share

TIED = "\N{NO-BREAK SPACE}"


def values(name: str, given: dict[str, object]) -> dict[str, str]:
    """Return the figure's table as a mapping."""
    return {row[0]: row[1].replace(TIED, " ") for row in draw(name, given).table.rows}


def test_a_fifth_of_the_face_takes_five_times_the_pressure() -> None:
    said = values("pressure-tilted", {"touching_percent": 20})
    assert pressure_on_share(40, 150, 0.2).factor == 5
    assert said["pressure of the flat pad"] == "2.26 kPa"
    assert said["pressure here"] == "11.3 kPa"
    assert said["times the flat pad's"] == "5"
    assert said["force that keeps the flat pad's pressure"] == "8 N"


@pytest.mark.parametrize("share", [0.02, 0.2, 0.5, 0.8, 1.0])
def test_the_hatched_part_of_a_tilted_face_has_the_share_that_touches(share: float) -> None:
    assert share_on_panel(2.0, chord_of_share(share)) == pytest.approx(share, abs=1e-6)


def test_a_centre_on_the_edge_doubles_the_pressure() -> None:
    said = values("pressure-overhang", {})
    assert said["pad's centre"] == "on the edge"
    assert said["times the flat pad's"] == "2"


@pytest.mark.parametrize("overhang_mm", [-75, -30, 0, 37.5, 60])
def test_the_overhang_prints_the_pressure_of_the_model(overhang_mm: float) -> None:
    said = values("pressure-overhang", {"overhang_mm": overhang_mm})
    expected = pressure_at_edge(40, 150, overhang_mm)
    assert float(said["pressure here"].split()[0]) == pytest.approx(expected.pressure_kpa, rel=6e-3)
    assert float(said["times the flat pad's"]) == pytest.approx(expected.factor, rel=6e-3)


def test_a_crown_strip_of_twenty_millimetres_takes_nearly_six_times_the_pressure() -> None:
    said = values("pressure-crown", {"strip_mm": 20})
    assert pressure_on_strip(40, 150, 20).pressure_kpa == pytest.approx(13.33, abs=0.01)
    assert said["pressure here"] == "13.3 kPa"
    assert said["times the flat pad's"] == "5.89"
    assert said["force that keeps the flat pad's pressure"] == "6.79 N"


@pytest.mark.parametrize(
    ("name", "given", "parameter"),
    [
        ("pressure-overhang", {"overhang_mm": 70}, "overhang_mm"),
        ("pressure-overhang", {"overhang_mm": -80}, "overhang_mm"),
        ("pressure-crown", {"strip_mm": 80}, "strip_mm"),
        ("pressure-tilted", {"touching_percent": 0}, "touching_percent"),
    ],
)
def test_a_pad_that_does_not_touch_or_a_strip_that_is_no_strip_is_refused(
    name: str, given: dict[str, object], parameter: str
) -> None:
    assert [error.parameter for error in check(name, given)] == [parameter]
