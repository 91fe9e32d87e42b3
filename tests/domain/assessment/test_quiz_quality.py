"""How far a quiz's pass mark can be trusted; against simulated trainees where no table exists."""

from __future__ import annotations

import numpy as np
import pytest

from academy.domain.assessment.decision_quality import EverybodyTheSame, NoSpreadBeyondLuck
from academy.domain.assessment.item_parameters import ItemParameters
from academy.domain.assessment.near_the_cut import ability_at_cut, near_cut
from academy.domain.assessment.quiz_quality import (
    SatQuiz,
    TooFewSittings,
    longer_forms,
    quality_by_model,
    quality_by_scores,
    reliability_of,
    scores_of,
)

QUESTIONS, CUT = 20, 13


def sat(scores: list[int], cut: int = CUT, questions: int = QUESTIONS) -> list[SatQuiz]:
    return [SatQuiz(100 * s, 100 * cut, 100 * questions, passed=s >= cut) for s in scores]


def simulated(persons: int, seed: int = 3) -> tuple[np.ndarray, np.ndarray]:
    """Return true shares from Beta(7, 3) and the scores they give on one form."""
    chance = np.random.default_rng(seed)
    shares = chance.beta(7, 3, persons)
    return shares, chance.binomial(QUESTIONS, shares)


def test_below_thirty_sittings_nothing_is_said() -> None:
    with pytest.raises(TooFewSittings, match="29 first sittings"):
        scores_of(sat([15] * 29))
    with pytest.raises(TooFewSittings, match="0 first sittings"):
        scores_of([])


def test_forms_that_lost_a_question_are_left_out() -> None:
    found = scores_of(sat([15, 12] * 20) + sat([10] * 9, questions=19))
    assert (found.sittings, found.questions, found.reached_cut) == (40, 20, 20)


def test_false_passes_and_fails_are_those_of_simulated_trainees() -> None:
    """20,000 simulated trainees: who passes below the cut, and who fails at or above it."""
    shares, scores = simulated(20_000)
    quality = quality_by_scores(scores_of(sat(scores.tolist())))
    able = shares >= CUT / QUESTIONS
    assert quality.false_pass == pytest.approx(np.mean((scores >= CUT) & ~able), abs=0.01)
    assert quality.false_fail == pytest.approx(np.mean((scores < CUT) & able), abs=0.01)


def test_a_longer_form_decides_more_often_rightly() -> None:
    _, scores = simulated(2_000)
    found = scores_of(sat(scores.tolist()))
    now, longer = quality_by_scores(found), longer_forms(found)
    wrong = [one.quality.false_pass + one.quality.false_fail for one in longer]
    assert [one.questions for one in longer] == [30, 40, 60]
    assert now.false_pass + now.false_fail > wrong[0] > wrong[1] > wrong[2]
    assert longer[1].reliability > reliability_of(found)


def test_alike_scores_say_nothing() -> None:
    with pytest.raises(EverybodyTheSame):
        quality_by_scores(scores_of(sat([15] * 40)))
    with pytest.raises(NoSpreadBeyondLuck):
        quality_by_scores(scores_of(sat([15, 14] * 20)))


def test_the_model_gives_the_chances_of_trainees_it_describes() -> None:
    chance = np.random.default_rng(8)
    parameters = ItemParameters(np.full(QUESTIONS, 1.2), chance.normal(0.8, 1, QUESTIONS))
    theta = chance.normal(size=40_000)
    chances = 1 / (1 + np.exp(-(parameters.a[:, None] * theta + parameters.d[:, None])))
    passed = (chance.random(chances.shape) < chances).sum(axis=0) >= CUT
    quality = quality_by_model(parameters, [(range(QUESTIONS), CUT)] * 3)
    assert quality is not None
    able = chances.sum(axis=0) >= CUT
    assert quality.pass_rate == pytest.approx(passed.mean(), abs=0.01)
    assert quality.false_pass == pytest.approx((passed & ~able).mean(), abs=0.01)
    assert quality.false_fail == pytest.approx((~passed & able).mean(), abs=0.01)


def test_a_form_with_a_question_that_has_no_estimate_is_left_out() -> None:
    parameters = ItemParameters(np.array([1.0, 1.0]), np.array([0.0, np.nan]))
    assert quality_by_model(parameters, [((0, 1), 1.0)]) is None


def test_at_the_pass_mark_ratings_that_fit_are_met() -> None:
    """Ratings made from an ability of −0.7 lead back to it, and to themselves."""
    parameters = ItemParameters(np.full(8, 1.1), np.linspace(-1, 2.5, 8))
    chances = 1 / (1 + np.exp(-(1.1 * -0.7 + parameters.d)))
    theta = ability_at_cut(parameters, float(chances.sum()))
    assert theta == pytest.approx(-0.7, abs=1e-9)
    ratings = [round(100 * p) for p in chances]
    found = near_cut(parameters, ratings, [50] * 8)
    assert [one.percent for one in found if one] == pytest.approx(ratings, abs=1)


def test_a_pass_mark_beyond_reach_has_no_ability() -> None:
    parameters = ItemParameters(np.ones(2), np.zeros(2))
    assert ability_at_cut(parameters, 2.0) is None
    assert near_cut(parameters, [100, 100], [50, 50]) == (None, None)
