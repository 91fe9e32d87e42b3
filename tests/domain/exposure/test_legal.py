"""Which country's values a day is judged by, and what is said where nothing is known."""

from __future__ import annotations

import pytest

from academy.domain.exposure.legal import (
    NoCountryStated,
    SetByLaw,
    UnknownCountry,
    WidelyUsed,
    checked_country,
    vibration_values,
)


@pytest.mark.parametrize("country", ["AT", "DE", "FR", "IE", "NO", "PL", "SE"])
def test_a_state_bound_by_the_directive_has_its_values(country: str) -> None:
    # Directive 2002/44/EC, article 3: 2.5 and 5 m/s²; 100 and 400 points of the ready-reckoner. Read.
    values = vibration_values(country)

    assert (values.action_m_s2, values.limit_m_s2) == (2.5, 5.0)
    assert (values.action_points, values.limit_points) == pytest.approx((100, 400))
    assert isinstance(values.basis, SetByLaw)
    assert "national rules may ask for more" in str(values.basis)


def test_britain_names_its_own_regulations() -> None:
    # The HSE exposure ready-reckoner gives 100 and 400 points; read.
    assert "2005" in str(vibration_values("GB").basis)


@pytest.mark.parametrize("country", ["US", "ZA", "JP", "CH"])
def test_an_unknown_country_is_sent_to_its_own_rules(country: str) -> None:
    basis = vibration_values(country).basis

    assert isinstance(basis, WidelyUsed)
    assert "look at the rules where you work" in str(basis)


def test_a_shop_that_named_no_country_is_told_so() -> None:
    assert isinstance(vibration_values("").basis, NoCountryStated)


@pytest.mark.parametrize("code", ["de", "DEU", "D", "D1", "ÄÖ", " DE"])
def test_what_is_no_country_code_is_refused(code: str) -> None:
    with pytest.raises(UnknownCountry):
        checked_country(code)


@pytest.mark.parametrize("code", ["", "DE", "US"])
def test_a_country_code_or_none_is_taken(code: str) -> None:
    assert checked_country(code) == code
