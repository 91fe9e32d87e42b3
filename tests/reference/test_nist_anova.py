"""One-way analysis of variance against the certified values of NIST.

Source: NIST Statistical Reference Datasets, one-way ANOVA (certified values
read in the published files; recomputed with decimals).  The sets with an
offset of 1e12 cannot be told apart from rounding in double precision: usual
programs return F = 21.0008, 201.013 and 2001.135 for 21, 201 and 2001.
"""

from __future__ import annotations

import pytest

from academy.domain.metrology.anova import one_way
from tests.reference.nist_data import digits_of_agreement, one_way_groups

SETS = ["SiRstv", "SmLs01", "SmLs02", "SmLs03", "SmLs07", "SmLs08", "SmLs09"]
DIGITS = 14.5


@pytest.mark.parametrize("name", SETS)
def test_a_table_agrees_with_the_certified_values(name: str) -> None:
    groups, certified = one_way_groups(name)
    table = one_way(groups)
    assert (table.df_between, table.df_within) == (certified["df_between"], certified["df_within"])
    for key in ("ss_between", "ss_within", "f", "r2", "residual_sd"):
        assert digits_of_agreement(getattr(table, key), certified[key]) >= DIGITS, key


def test_an_offset_of_a_million_millions_costs_no_digit_with_plain_numbers() -> None:
    groups, certified = one_way_groups("SmLs07")
    table = one_way([[float(value) for value in group] for group in groups])
    assert digits_of_agreement(table.f, certified["f"]) >= DIGITS


def test_sums_in_double_precision_lose_that_offset() -> None:
    groups, certified = one_way_groups("SmLs07")
    numbers = [[float(value) for value in group] for group in groups]
    means = [sum(group) / len(group) for group in numbers]
    overall = sum(means) / len(means)
    between = sum(len(g) * (m - overall) ** 2 for g, m in zip(numbers, means, strict=True)) / 8
    within = sum((x - m) ** 2 for g, m in zip(numbers, means, strict=True) for x in g) / 180
    assert digits_of_agreement(between / within, certified["f"]) < 6
