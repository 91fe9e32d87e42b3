"""Mean, standard deviation and autocorrelation against the certified values of NIST.

Source: NIST Statistical Reference Datasets, univariate summary statistics
(data and certified values read in a public copy; recomputed with 50 decimals).
"""

from __future__ import annotations

import pytest

from academy.domain.metrology.summary import summarise
from tests.reference.nist_data import digits_of_agreement, univariate

SETS = ["Mavro", "Michelso", "NumAcc1", "NumAcc2", "NumAcc4"]
# The certified values are printed with 15 digits; a double holds just under 16.
MEAN_DIGITS, SPREAD_DIGITS = 15.0, 14.5


@pytest.mark.parametrize("name", SETS)
def test_a_summary_agrees_with_the_certified_values(name: str) -> None:
    values, certified = univariate(name)
    summary = summarise(values)
    assert summary.sd is not None
    assert summary.lag1_autocorrelation is not None
    assert digits_of_agreement(summary.mean, certified["mean"]) >= MEAN_DIGITS
    assert digits_of_agreement(summary.sd, certified["sd"]) >= SPREAD_DIGITS
    autocorrelation = digits_of_agreement(
        summary.lag1_autocorrelation, certified["lag1_autocorrelation"]
    )
    assert autocorrelation >= SPREAD_DIGITS


@pytest.mark.parametrize("name", SETS)
def test_plain_numbers_agree_as_well_as_decimal_texts(name: str) -> None:
    values, _ = univariate(name)
    assert summarise([float(value) for value in values]) == summarise(values)


def test_a_one_pass_variance_is_lost_on_the_hardest_set() -> None:
    values, certified = univariate("NumAcc4")
    numbers = [float(value) for value in values]
    mean = sum(numbers) / len(numbers)
    one_pass = (sum(x * x for x in numbers) - len(numbers) * mean * mean) / (len(numbers) - 1)
    assert abs(one_pass - float(certified["sd"]) ** 2) > 0.009
    assert digits_of_agreement(summarise(values).sd or 0.0, certified["sd"]) >= SPREAD_DIGITS
