"""How far the pass or fail of a quiz or an examination can be trusted, from its first sittings."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from typing import ClassVar

import numpy as np

from academy.domain.assessment.decision_quality import (
    DecisionQuality,
    TrueShares,
    beta_binomial_quality,
    modelled_quality,
    true_shares,
)
from academy.domain.assessment.item_parameters import ItemParameters
from academy.domain.assessment.latent import ability_grid, chance_right
from academy.domain.assessment.shown_share import FEWEST_FOR_A_PERCENTAGE
from academy.domain.sentences import TradeError

LENGTHS = (1.5, 2.0, 3.0)
MOST_FORMS = 40
# Fine enough that the ability at the cut falls between two near nodes.
NODES = 601


@dataclass(eq=False)
class TooFewSittings(TradeError):
    """A handful of sittings says nothing about a pass mark."""

    template: ClassVar[str] = (
        "%(sittings)d first sittings of this quiz or examination count so far; from %(needed)d on this page says"
        " how far its pass mark can be trusted"
    )
    sittings: int
    needed: int


@dataclass(frozen=True, slots=True)
class SatQuiz:
    """One first sitting; points are percent of a question.  ``passed`` None is not decided yet."""

    score_points: int
    cut_points: int
    full_points: int
    passed: bool | None


@dataclass(frozen=True, slots=True)
class Scores:
    """Sittings of the commonest length, in questions; the variance is over n."""

    sittings: int
    reached_cut: int
    passed: int
    questions: int
    cut: float
    mean: float
    variance: float


@dataclass(frozen=True, slots=True)
class LongerForm:
    """What a form of so many questions would do."""

    questions: int
    quality: DecisionQuality
    reliability: float


def scores_of(sat: Sequence[SatQuiz]) -> Scores:
    """Return the scores of the first sittings whose form has the commonest number of questions.

    A form is shorter where a faulty question was taken out of it.

    Raises
    ------
    TooFewSittings
    """
    lengths = Counter(one.full_points for one in sat)
    full_points = max(lengths, key=lambda points: (lengths[points], points), default=0)
    alike = [one for one in sat if one.full_points == full_points]
    if len(alike) < FEWEST_FOR_A_PERCENTAGE:
        raise TooFewSittings(len(alike), FEWEST_FOR_A_PERCENTAGE)
    score = np.array([one.score_points for one in alike]) / 100
    return Scores(
        sittings=len(alike),
        reached_cut=sum(one.score_points >= one.cut_points for one in alike),
        passed=sum(one.passed is True for one in alike),
        questions=full_points // 100,
        cut=float(np.mean([one.cut_points for one in alike])) / 100,
        mean=float(score.mean()),
        variance=float(score.var()),
    )


def quality_by_scores(scores: Scores) -> DecisionQuality:
    """Return the beta-binomial quality of the pass mark.

    Raises
    ------
    NoSpreadBeyondLuck, EverybodyTheSame, AllOrNothing
    """
    return beta_binomial_quality(_shares(scores), scores.questions, scores.cut)


def longer_forms(scores: Scores) -> tuple[LongerForm, ...]:
    """Return what longer forms of the same kind of questions would do, the cut at the same share."""
    shares = _shares(scores)
    made = []
    for times in LENGTHS:
        questions = round(scores.questions * times)
        cut = scores.cut * questions / scores.questions
        quality = beta_binomial_quality(shares, questions, cut)
        made.append(LongerForm(questions, quality, shares.kr21(questions)))
    return tuple(made)


def reliability_of(scores: Scores) -> float:
    """Return KR-21 of the form as it is."""
    return _shares(scores).kr21(scores.questions)


def quality_by_model(
    parameters: ItemParameters, forms: Sequence[tuple[Sequence[int], float]]
) -> DecisionQuality | None:
    """Return the mean quality of drawn forms by the one-parameter model.

    Parameters
    ----------
    forms
        for each form its questions (places in ``parameters``) and its cut in
        questions; forms with a question that has no estimate are left out

    Returns
    -------
    DecisionQuality or None
        Kappa is left out: a mean of kappas is no kappa.  None without a form.
    """
    grid = ability_grid(NODES)
    share = np.exp(grid.log_share)
    found = []
    for items, cut in forms:
        chosen = np.array(items, dtype=np.intp)
        if not len(chosen) or np.isnan(parameters.d[chosen]).any():
            continue
        logit = parameters.a[chosen, None] * grid.theta + parameters.d[chosen, None]
        found.append(modelled_quality(chance_right(logit), share, cut))
        if len(found) == MOST_FORMS:
            break
    if not found:
        return None
    return DecisionQuality(
        consistency=_mean([one.consistency for one in found]),
        kappa=None,
        pass_rate=_mean([one.pass_rate for one in found]),
        false_pass=_mean([one.false_pass for one in found]),
        false_fail=_mean([one.false_fail for one in found]),
    )


def _mean(values: Sequence[float]) -> float:
    return sum(values) / len(values)


def _shares(scores: Scores) -> TrueShares:
    return true_shares(scores.questions, scores.mean, scores.variance)
