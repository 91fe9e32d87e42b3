"""The bar adds up each machine's points and says which value is reached."""

from __future__ import annotations

import pytest

from academy.domain.exposure.vibration import VibrationExposure, daily_vibration
from academy.figures import check, draw
from academy.figures.exposure_bar import ExposureBar, day, points_at_limit, shares


def one(magnitude_m_s2: float, minutes: float) -> dict[str, object]:
    """Return a day with a single machine."""
    return {"machines": "rotary", "magnitudes_m_s2": magnitude_m_s2, "minutes": minutes}


def test_shares_add_up_to_the_day() -> None:
    given = ExposureBar()
    assert sum(share.points for share in shares(given)) == pytest.approx(day(given).points)


def test_five_metres_for_three_hours_are_a_hundred_and_fifty_points() -> None:
    assert daily_vibration([VibrationExposure(5, 3)]).points == pytest.approx(150)
    assert "150\N{NO-BREAK SPACE}points" in draw("exposure-bar", one(5, 180)).alternative_text


def test_the_limit_value_stands_at_four_hundred_points() -> None:
    assert points_at_limit() == 400
    svg = draw("exposure-bar", {}).svg
    assert ">action 100<" in svg
    assert ">limit 400<" in svg


@pytest.mark.parametrize(
    ("magnitude", "minutes", "said"),
    [
        (2.4, 480, "Below the action value"),
        (2.5, 480, "The action value is reached"),
        (4, 188, "The action value is reached"),
        (5, 480, "The limit value is reached"),
        (30, 720, "The limit value is reached"),
    ],
)
def test_the_verdict_names_the_value_that_is_reached(
    magnitude: float, minutes: float, said: str
) -> None:
    assert said in draw("exposure-bar", one(magnitude, minutes)).alternative_text


def test_values_may_be_written_with_commas_or_as_a_list() -> None:
    listed = {"machines": ["a", "b"], "magnitudes_m_s2": [4, 5], "minutes": [60, 30]}
    written = {"machines": "a, b", "magnitudes_m_s2": "4, 5", "minutes": "60, 30"}
    assert draw("exposure-bar", listed) == draw("exposure-bar", written)


@pytest.mark.parametrize(
    ("given", "parameter"),
    [
        ({"minutes": "60"}, "minutes"),
        ({"magnitudes_m_s2": "4, 5, 6"}, "magnitudes_m_s2"),
        ({"minutes": "60, 800"}, "minutes"),
        ({"minutes": "60, soon"}, "minutes"),
        ({"magnitudes_m_s2": "4, -5"}, "magnitudes_m_s2"),
        ({"magnitudes_m_s2": [True, 5]}, "magnitudes_m_s2"),
        ({"machines": "a, b, c, d, e, f"}, "machines"),
        ({"machines": ""}, "machines"),
        ({"machines": "a name that is far too long, b"}, "machines"),
        (
            {"machines": "a,b,c", "magnitudes_m_s2": "1,1,1", "minutes": "720,720,720"},
            "minutes",
        ),
    ],
)
def test_lists_that_do_not_belong_together_are_refused(
    given: dict[str, object], parameter: str
) -> None:
    assert check("exposure-bar", given)[0].parameter == parameter


def test_a_name_with_markup_is_printed_as_text() -> None:
    figure = draw("exposure-bar", {"machines": "<b>&, b"})
    assert "&lt;b&gt;&amp;: 4" in figure.svg
