"""The same question put to us and to open libraries that were written by others.

They are in the tests' environment alone.  A disagreement means that one of us
is wrong: find out which before a digit is changed here.
"""

from __future__ import annotations

import girth
import krippendorff
import numpy as np
import pytest
from numpy.typing import NDArray
from sklearn.metrics import cohen_kappa_score
from statsmodels.stats import inter_rater
from statsmodels.stats.proportion import proportion_confint

from academy.domain.assessment.agreement import agreement
from academy.domain.assessment.one_parameter import fit_one_parameter, rasch_difficulties
from academy.domain.assessment.proportion import (
    clopper_pearson_interval,
    jeffreys_interval,
    wilson_interval,
)
from academy.domain.assessment.rater_alpha import Scale, krippendorff_alpha
from academy.domain.assessment.rater_kappa import fleiss_kappa
from academy.domain.assessment.responses import responses_in
from academy.domain.assessment.two_parameter import fit_two_parameter
from tests.reference.rated_data import lsat6, lsat6_dense

SEEDS = range(5)


def rated(seed: int, raters: int, missing: float) -> NDArray[np.float64]:
    """Return invented ratings of 1 to 4 that follow a common quality, some left out."""
    chance = np.random.default_rng(seed)
    quality = chance.normal(size=30)
    ratings = np.clip(np.round(2.5 + quality + chance.normal(size=(raters, 30)) * 0.8), 1, 4)
    ratings[chance.random(ratings.shape) < missing] = np.nan
    return np.asarray(ratings)


@pytest.mark.parametrize("seed", SEEDS)
@pytest.mark.parametrize("scale", Scale)
def test_alpha_is_that_of_krippendorff(seed: int, scale: Scale) -> None:
    ratings = rated(seed, raters=4, missing=0.3)
    theirs = krippendorff.alpha(reliability_data=ratings, level_of_measurement=scale.value)
    assert krippendorff_alpha(ratings, scale).alpha == pytest.approx(theirs, abs=1e-12)


@pytest.mark.parametrize("seed", SEEDS)
def test_kappas_are_those_of_scikit_learn(seed: int) -> None:
    first, second = ratings = rated(seed, raters=2, missing=0.0)
    pair = agreement(ratings, Scale.ORDINAL).pair
    assert pair is not None
    assert pair.plain == pytest.approx(cohen_kappa_score(first, second), abs=1e-12)
    for ours, weights in ((pair.linear, "linear"), (pair.quadratic, "quadratic")):
        theirs = cohen_kappa_score(first, second, weights=weights)
        assert ours == pytest.approx(theirs, abs=1e-12)


@pytest.mark.parametrize("seed", SEEDS)
def test_fleiss_kappa_is_that_of_statsmodels(seed: int) -> None:
    counts, _categories = inter_rater.aggregate_raters(rated(seed, raters=5, missing=0.0).T)
    theirs = inter_rater.fleiss_kappa(counts)
    assert fleiss_kappa(counts.astype(float)) == pytest.approx(theirs, abs=1e-12)


@pytest.mark.parametrize(("passed", "tried"), [(1, 3), (7, 9), (29, 30), (81, 263)])
def test_intervals_are_those_of_statsmodels(passed: int, tried: int) -> None:
    """Away from 0 and n; there statsmodels leaves Jeffreys' quantile where we set 0 and 1."""
    for interval, method in (
        (wilson_interval, "wilson"),
        (clopper_pearson_interval, "beta"),
        (jeffreys_interval, "jeffreys"),
    ):
        ours = interval(passed, tried)
        theirs = proportion_confint(passed, tried, alpha=0.05, method=method)
        assert (ours.lower, ours.upper) == pytest.approx(theirs, abs=1e-10)


def test_the_one_parameter_model_is_that_of_girth() -> None:
    ours = fit_one_parameter(lsat6())
    theirs = girth.onepl_mml(lsat6_dense().T)
    assert ours.slope == pytest.approx(float(theirs["Discrimination"]), abs=5e-4)
    assert ours.parameters.b == pytest.approx(theirs["Difficulty"], abs=2e-3)


def test_the_two_parameter_model_is_that_of_girth() -> None:
    ours = fit_two_parameter(lsat6()).parameters
    theirs = girth.twopl_mml(lsat6_dense().T)
    assert ours.a == pytest.approx(theirs["Discrimination"], abs=2e-3)
    assert ours.b == pytest.approx(theirs["Difficulty"], abs=1e-2)


def test_centred_difficulties_lie_by_girths_conditional_ones() -> None:
    theirs = girth.rasch_conditional(lsat6_dense().T)["Difficulty"]
    ours = rasch_difficulties(fit_one_parameter(lsat6()))
    assert ours == pytest.approx(theirs - theirs.mean(), abs=2e-3)


def test_questions_left_out_are_skipped_as_girth_skips_them() -> None:
    """girth fits each share right by itself, which with gaps is near the maximum, not at it."""
    chance = np.random.default_rng(11)
    ability, difficulty = chance.normal(size=800), np.linspace(-1.5, 1.5, 12)
    right = chance.random((800, 12)) < 1 / (1 + np.exp(difficulty - ability[:, None]))
    table = np.where(chance.random((800, 12)) < 0.4, np.nan, right)
    ours = fit_one_parameter(responses_in(table))
    tagged = girth.tag_missing_data(np.where(np.isnan(table), -1, table).astype(int).T, [0, 1])
    theirs = girth.onepl_mml(tagged)
    assert ours.slope == pytest.approx(float(theirs["Discrimination"]), rel=0.05)
    assert ours.parameters.b == pytest.approx(theirs["Difficulty"], abs=0.1)
