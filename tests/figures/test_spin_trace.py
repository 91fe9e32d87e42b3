"""The three classes of machine are drawn for the same time and to the same scale."""

from __future__ import annotations

import pytest

from academy.domain.polishing.kinematics import orbit_speed_m_s, rim_speed_m_s
from academy.figures import check, draw
from academy.figures.spin_trace import SpinTrace, machines


def test_a_rotary_moves_the_point_at_the_speed_of_its_circle() -> None:
    rotary = machines(SpinTrace())[0]
    assert rotary.motion.mean_speed_m_s(60) == pytest.approx(rim_speed_m_s(120, 1200))


def test_a_stalled_free_spinning_pad_moves_at_the_speed_of_the_orbit() -> None:
    stalled = machines(SpinTrace(free_spin_rpm=0))[1]
    assert stalled.motion.mean_speed_m_s(60) == pytest.approx(orbit_speed_m_s(15, 4800))
    assert "turned by 0°" in draw("spin-trace", {"free_spin_rpm": 0}).alternative_text


def test_turns_are_those_of_the_time_drawn() -> None:
    rows = draw("spin-trace", {"time_ms": 100}).table.rows
    # 0.1 s at 1200, 60 and 400 rpm: 2, 0.1 and 0.667 turns.
    assert [row[2] for row in rows] == ["720°", "36°", "240°"]


def test_all_three_stand_in_the_picture_by_name() -> None:
    svg = draw("spin-trace", {}).svg
    assert all(f">{name}<" in svg for name in ("rotary", "free-spinning", "forced"))


def test_a_point_beyond_the_rim_is_refused() -> None:
    assert check("spin-trace", {"radius_mm": 80})[0].parameter == "radius_mm"
