"""A day of noise by three rules."""

from __future__ import annotations

import pytest

from academy.domain.exposure.noise import (
    DoseRule,
    NoiseExposure,
    NoTimeInNoise,
    allowed_hours,
    daily_dose,
    lex_8h_dba,
)


@pytest.mark.parametrize("rule", DoseRule)
def test_the_criterion_level_for_eight_hours_is_the_whole_dose(rule: DoseRule) -> None:
    day = daily_dose(rule, [NoiseExposure(rule.criterion_dba, 8)])

    assert day.dose_percent == pytest.approx(100)
    assert day.twa_dba == pytest.approx(rule.criterion_dba)


@pytest.mark.parametrize("rule", DoseRule)
def test_the_exchange_halves_the_time(rule: DoseRule) -> None:
    louder = rule.criterion_dba + 2 * rule.exchange_db

    assert allowed_hours(rule, louder) == 2


def test_stretches_of_a_day_add_up() -> None:
    day = [NoiseExposure(94, 1), NoiseExposure(88, 4)]

    assert daily_dose(DoseRule.NIOSH, day).dose_percent == pytest.approx(200)


def test_quiet_stretches_count_too_no_threshold_is_applied() -> None:
    loud = [NoiseExposure(95, 2)]
    with_quiet = [*loud, NoiseExposure(75, 6)]

    assert (
        daily_dose(DoseRule.OSHA, with_quiet).dose_percent
        > daily_dose(DoseRule.OSHA, loud).dose_percent
    )


def test_an_even_day_of_eight_hours_is_its_own_level() -> None:
    assert lex_8h_dba([NoiseExposure(87, 8)]) == pytest.approx(87)
    assert lex_8h_dba([NoiseExposure(87, 4)]) == pytest.approx(83.99, abs=0.005)


@pytest.mark.parametrize(
    "day",
    [[], [NoiseExposure(95, 0)], [NoiseExposure(0, 5e-324)]],
    ids=["nothing", "no time", "next to no time"],
)
def test_a_day_without_noise_has_no_level(day: list[NoiseExposure]) -> None:
    with pytest.raises(NoTimeInNoise, match="no time was spent in noise"):
        lex_8h_dba(day)
    with pytest.raises(NoTimeInNoise):
        daily_dose(DoseRule.OSHA, day)
