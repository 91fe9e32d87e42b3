"""How far a pass or fail can be trusted."""

from __future__ import annotations

from itertools import product

import numpy as np
import pytest

from academy.domain.assessment.decision_quality import (
    AllOrNothing,
    EverybodyTheSame,
    NoSpreadBeyondLuck,
    beta_binomial_quality,
    lengthened,
    modelled_quality,
    points_for,
    times_for,
    true_shares,
)
from academy.domain.assessment.latent import ability_grid, chance_right
from academy.domain.assessment.score_distribution import chance_of_passing, score_distribution


def test_the_chance_of_each_score_is_that_of_all_ways_to_reach_it() -> None:
    chances = np.array([0.9, 0.5, 0.2, 0.7])
    by_hand = np.zeros(5)
    for way in product([0, 1], repeat=4):
        by_hand[sum(way)] += np.prod(np.where(way, chances, 1 - chances))
    assert score_distribution(chances) == pytest.approx(by_hand, abs=1e-15)
    assert chance_of_passing(chances, 3) == pytest.approx(by_hand[3:].sum(), abs=1e-15)
    assert chance_of_passing(chances, 0) == pytest.approx(1.0)
    assert chance_of_passing(chances, 5) == 0.0


def test_a_cut_is_never_rounded_down_and_binary_dust_costs_no_point() -> None:
    assert points_for(13.2) == 14
    assert points_for(14.0) == 14
    assert points_for(14.000000000000002) == 14
    assert points_for(0.0) == 0


def test_false_passes_and_fails_are_those_of_a_simulation() -> None:
    shares = true_shares(20, 14.0, 12.0)
    quality = beta_binomial_quality(shares, 20, 14)
    chance = np.random.default_rng(3)
    true = chance.beta(shares.a, shares.b, 400_000)
    first, second = chance.binomial(20, true), chance.binomial(20, true)
    assert quality.pass_rate == pytest.approx(np.mean(first >= 14), abs=0.004)
    assert quality.consistency == pytest.approx(np.mean((first >= 14) == (second >= 14)), abs=0.004)
    assert quality.false_pass == pytest.approx(np.mean((first >= 14) & (true < 0.7)), abs=0.004)
    assert quality.false_fail == pytest.approx(np.mean((first < 14) & (true >= 0.7)), abs=0.004)


def test_a_longer_form_decides_better() -> None:
    shares = true_shares(20, 14.0, 12.0)
    short, long = beta_binomial_quality(shares, 20, 14), beta_binomial_quality(shares, 60, 42)
    assert long.consistency > short.consistency
    assert long.false_pass + long.false_fail < short.false_pass + short.false_fail
    assert times_for(0.6, 0.75) == pytest.approx(2.0)
    assert lengthened(0.5, times_for(0.5, 0.9)) == pytest.approx(0.9)


def test_a_cut_that_everybody_reaches_has_no_kappa() -> None:
    quality = beta_binomial_quality(true_shares(6, 4.0, 2.0), 6, 0)
    assert quality.kappa is None
    assert quality.pass_rate == 1.0
    assert quality.consistency == 1.0
    assert quality.false_pass == 0.0


def test_scores_that_luck_alone_explains_are_refused_in_a_sentence() -> None:
    with pytest.raises(NoSpreadBeyondLuck, match=r"KR-21 is -0\.400"):
        true_shares(6, 4.0, 1.0)
    with pytest.raises(EverybodyTheSame):
        true_shares(6, 6.0, 0.0)
    with pytest.raises(AllOrNothing):
        true_shares(6, 4.0, 8.0)


def test_the_models_quality_falls_together_with_a_simulation() -> None:
    grid = ability_grid()
    share = np.exp(grid.log_share)
    d = np.linspace(-1, 2, 20)
    quality = modelled_quality(chance_right(1.3 * grid.theta + d[:, None]), share, 13.5)
    chance = np.random.default_rng(9)
    ability = chance.normal(size=(200_000, 1))
    chances = chance_right(1.3 * ability + d)
    passes = [(chance.random(chances.shape) < chances).sum(axis=1) >= 14 for _ in range(2)]
    enough = chances.sum(axis=1) >= 13.5
    assert quality.pass_rate == pytest.approx(passes[0].mean(), abs=0.005)
    assert quality.consistency == pytest.approx((passes[0] == passes[1]).mean(), abs=0.005)
    # The grid's steps round where ability becomes sufficient, by a few thousandths.
    assert quality.false_pass == pytest.approx((passes[0] & ~enough).mean(), abs=0.02)
    assert quality.false_fail == pytest.approx((~passes[0] & enough).mean(), abs=0.02)
