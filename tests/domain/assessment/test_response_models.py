"""One- and two-parameter models and ability on invented responses."""

from __future__ import annotations

import numpy as np
import pytest
from numpy.typing import NDArray

from academy.domain.assessment.ability import ability_of
from academy.domain.assessment.item_parameters import TooFewToCompare
from academy.domain.assessment.latent import ability_grid, chance_right
from academy.domain.assessment.one_parameter import AbilitiesDoNotDiffer, fit_one_parameter
from academy.domain.assessment.responses import responses_at, responses_in, responses_of
from academy.domain.assessment.two_parameter import fit_two_parameter

Numbers = NDArray[np.float64]


def answered(slopes: Numbers, difficulty: Numbers, persons: int, missing: float = 0.0) -> Numbers:
    """Return responses of simulated trainees, some questions not presented."""
    chance = np.random.default_rng(5)
    ability = chance.normal(size=(persons, 1))
    right = chance.random((persons, len(slopes))) < chance_right(slopes * (ability - difficulty))
    return np.where(chance.random(right.shape) < missing, np.nan, right)


def log_likelihood(table: Numbers, a: Numbers, d: Numbers) -> float:
    """Return the marginal log-likelihood, written out person by person with other nodes."""
    nodes, weights = np.polynomial.hermite_e.hermegauss(81)
    total = 0.0
    for row in table:
        asked = ~np.isnan(row)
        chance = chance_right(a[asked, None] * nodes + d[asked, None])
        each = np.where(row[asked, None] == 1, chance, 1 - chance)
        total += float(np.log(each.prod(axis=0) @ weights / weights.sum()))
    return total


@pytest.mark.parametrize("missing", [0.0, 0.4])
def test_the_one_parameter_fit_is_the_top_of_the_likelihood(missing: float) -> None:
    table = answered(np.full(6, 1.2), np.linspace(-1, 1, 6), 300, missing)
    fit = fit_one_parameter(responses_in(table))
    a, d = fit.parameters.a, fit.parameters.d
    top = log_likelihood(table, a, d)
    assert fit.log_likelihood == pytest.approx(top, abs=1e-6)
    for change in (-1e-3, 1e-3):
        assert log_likelihood(table, a + change, d) < top
        for item in range(6):
            assert log_likelihood(table, a, d + change * (np.arange(6) == item)) < top


@pytest.mark.parametrize("missing", [0.0, 0.4])
def test_the_two_parameter_fit_is_the_top_of_the_likelihood(missing: float) -> None:
    table = answered(np.linspace(0.8, 1.6, 6), np.linspace(-1, 1, 6), 400, missing)
    fit = fit_two_parameter(responses_in(table))
    a, d = fit.parameters.a, fit.parameters.d
    top = log_likelihood(table, a, d)
    assert fit.log_likelihood == pytest.approx(top, abs=1e-6)
    for change in (-2e-3, 2e-3):
        for item in range(6):
            moved = change * (np.arange(6) == item)
            assert log_likelihood(table, a + moved, d) < top
            assert log_likelihood(table, a, d + moved) < top


def test_many_sparse_responses_give_the_difficulties_back() -> None:
    """10,000 trainees, 300 questions, 30 seen each; an independent fit reaches 0.0738 as well."""
    chance = np.random.default_rng(7)
    ability, difficulty = chance.normal(size=10_000), chance.normal(size=300)
    item = np.argsort(chance.random((10_000, 300)), axis=1)[:, :30].ravel()
    person = np.repeat(np.arange(10_000), 30)
    right = chance.random(len(item)) < chance_right(ability[person] - difficulty[item])
    fit = fit_one_parameter(
        responses_at(person, item, right, (10_000, 300)), nodes=31, tolerance=1e-4
    )
    assert fit.log_likelihood == pytest.approx(-172251.61, abs=1.0)
    assert fit.slope == pytest.approx(0.9963, abs=1e-3)
    assert np.sqrt(np.mean((fit.parameters.b - difficulty) ** 2)) == pytest.approx(0.0738, abs=0.01)


def test_grouping_by_score_gives_what_single_responses_give() -> None:
    table = answered(np.full(8, 1.0), np.linspace(-1, 1, 8), 200)
    one_gap = np.vstack([table, np.full(8, np.nan)])
    grouped, single = (fit_one_parameter(responses_in(t)) for t in (table, one_gap))
    assert responses_in(table).complete
    assert not responses_in(one_gap).complete
    assert grouped.slope == pytest.approx(single.slope, abs=1e-5)
    assert grouped.parameters.d == pytest.approx(single.parameters.d, abs=1e-5)


def test_a_question_all_answered_alike_has_no_finite_difficulty() -> None:
    table = answered(np.full(5, 1.0), np.zeros(5), 100)
    table[:, 2] = 1
    for parameters in (
        fit_one_parameter(responses_in(table)).parameters,
        fit_two_parameter(responses_in(table), slope_log_sd=0.5).parameters,
    ):
        assert np.isnan(parameters.d[2])
        assert np.isfinite(np.delete(parameters.d, 2)).all()
        assert 2 in parameters.at_limit


def test_a_slope_without_end_stops_at_5_and_is_reported() -> None:
    rows = [[1, 1, 1], [0, 0, 0]] * 20 + [[1, 1, 0], [0, 0, 1]] * 3
    parameters = fit_two_parameter(responses_of(rows)).parameters
    assert parameters.a[0] == pytest.approx(5.0)
    assert set(parameters.at_limit) >= {0, 1}
    assert 2 not in parameters.at_limit
    held = fit_two_parameter(responses_of(rows), slope_log_sd=0.5).parameters
    assert held.at_limit == ()


def test_a_question_with_a_wrong_key_has_a_slope_below_0() -> None:
    table = answered(np.full(8, 1.5), np.zeros(8), 600)
    table[:, 3] = 1 - table[:, 3]
    a = fit_two_parameter(responses_in(table)).parameters.a
    assert a[3] < -1
    assert (np.delete(a, 3) > 1).all()


def test_a_prior_draws_slopes_towards_1_and_is_not_in_the_log_likelihood() -> None:
    table = answered(np.array([0.5, 1.0, 2.0, 1.0]), np.zeros(4), 200)
    free = fit_two_parameter(responses_in(table))
    held = fit_two_parameter(responses_in(table), slope_log_sd=0.1)
    assert np.abs(np.log(held.parameters.a)).max() < np.abs(np.log(free.parameters.a)).max()
    assert held.log_likelihood == pytest.approx(
        log_likelihood(table, held.parameters.a, held.parameters.d), abs=1e-6
    )
    common = fit_one_parameter(responses_in(table), slope_log_sd=0.01)
    assert common.slope == pytest.approx(1.0, abs=0.02)


def test_too_few_questions_are_refused() -> None:
    with pytest.raises(TooFewToCompare, match="at least 2 questions"):
        fit_one_parameter(responses_of([[1, 1], [0, 1]]))
    with pytest.raises(TooFewToCompare, match="at least 3 questions"):
        fit_two_parameter(responses_of([[1, 1], [0, 0], [1, 0]]))


def test_persons_who_do_not_differ_have_no_scale() -> None:
    with pytest.raises(AbilitiesDoNotDiffer):
        fit_one_parameter(responses_of([[1, 0], [0, 1]] * 10))


def test_nobody_asked_anything_has_the_ability_of_the_group() -> None:
    found = ability_of(np.ones(2), np.zeros(2), [None, None])
    assert (found.mean, found.sd) == pytest.approx((0.0, 1.0), abs=1e-9)


def test_more_right_answers_show_more_ability_and_more_questions_show_it_better() -> None:
    a, d = np.full(10, 1.3), np.linspace(-1, 1, 10)
    means = [ability_of(a, d, [1] * n + [0] * (10 - n)).mean for n in range(11)]
    assert means == sorted(means)
    assert ability_of(a, d, [1] * 10).sd < ability_of(a, d, [1, *[None] * 9]).sd
    assert ability_of(a, d, [1, None] * 5) == ability_of(a[::2], d[::2], [1] * 5)


def test_the_grid_is_a_standard_normal() -> None:
    grid = ability_grid()
    share = np.exp(grid.log_share)
    assert share.sum() == pytest.approx(1.0)
    assert share @ grid.theta**2 == pytest.approx(1.0, abs=1e-7)
