"""A day of vibration against its values."""

from __future__ import annotations

import pytest

from academy.domain.exposure.vibration import (
    ACTION_VALUE_M_S2,
    LIMIT_VALUE_M_S2,
    VibrationExposure,
    a8_from_points,
    daily_vibration,
    hours_to_reach,
)


def test_machines_of_a_day_add_up_by_their_points() -> None:
    sander, polisher = VibrationExposure(6, 1), VibrationExposure(4, 2)
    both = daily_vibration([sander, polisher])

    assert both.points == pytest.approx(
        daily_vibration([sander]).points + daily_vibration([polisher]).points
    )
    assert both.a8_m_s2 == pytest.approx(a8_from_points(both.points))


@pytest.mark.parametrize("magnitude_m_s2", [2.5, 3.0, 4.0, 5.5, 6.0, 7.3])
def test_a_value_is_reached_exactly_at_its_time_and_not_just_before(
    magnitude_m_s2: float,
) -> None:
    action_h = hours_to_reach(ACTION_VALUE_M_S2, magnitude_m_s2)
    limit_h = hours_to_reach(LIMIT_VALUE_M_S2, magnitude_m_s2)

    assert daily_vibration([VibrationExposure(magnitude_m_s2, action_h)]).action_value_reached
    assert daily_vibration([VibrationExposure(magnitude_m_s2, limit_h)]).limit_value_reached
    short = daily_vibration([VibrationExposure(magnitude_m_s2, action_h * 0.9999)])
    assert not short.action_value_reached
    assert not short.limit_value_reached


def test_a_value_reached_in_pieces_is_reached() -> None:
    pieces = [VibrationExposure(4, 3.125 / 10)] * 10

    assert daily_vibration(pieces).action_value_reached


def test_a_day_without_machines_is_a_day_without_vibration() -> None:
    day = daily_vibration([])

    assert (day.a8_m_s2, day.points) == (0, 0)
    assert not day.action_value_reached
