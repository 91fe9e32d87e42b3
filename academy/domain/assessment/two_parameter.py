"""How hard each question is and how sharply it tells trainees apart: the two-parameter model.

logit P(right) = a_i·θ + d_i with θ ~ N(0, 1), by marginal maximum likelihood.
R. D. Bock, M. Aitkin (1981), Psychometrika 46, 443 (page from memory).  With
fewer than some hundred answers to a question its slope needs a prior:
ln a ~ N(0, slope_log_sd²).  R. J. Mislevy (1986), Psychometrika 51, 177 (page
from memory).
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from academy.domain.assessment.fixed_point import Climb, climb_to_maximum
from academy.domain.assessment.item_parameters import (
    LARGEST_SLOPE,
    ItemParameters,
    Numbers,
    estimable,
    with_gaps,
)
from academy.domain.assessment.latent import (
    DEFAULT_NODES,
    AbilityGrid,
    ability_grid,
    chance_right,
    posterior,
    softplus,
)
from academy.domain.assessment.responses import Responses

NEWTON_STEPS = 2
SMALLEST_WITH_PRIOR = 1e-2
FURTHEST_EASINESS = 30.0


@dataclass(frozen=True, slots=True, eq=False)
class TwoParameterFit:
    """The fitted model; the log-likelihood is that of the responses, without the prior."""

    parameters: ItemParameters
    log_likelihood: float


@dataclass(frozen=True, slots=True, eq=False)
class _Expected:
    """Persons expected at each ability: asked each question, and right in it."""

    asked: Numbers
    right: Numbers
    log_likelihood: float


@dataclass(frozen=True, slots=True, eq=False)
class _Fitting:
    responses: Responses
    right_by_item: Any
    presented_by_item: Any
    grid: AbilityGrid
    slope_log_sd: float | None

    def within(self, point: Numbers) -> Numbers:
        """Keep slopes within ±5, and above 0 where the prior is on their logarithm."""
        a, d = np.split(point, 2)
        least = -LARGEST_SLOPE if self.slope_log_sd is None else SMALLEST_WITH_PRIOR
        kept_a = np.clip(a, least, LARGEST_SLOPE)
        return np.concatenate([kept_a, np.clip(d, -FURTHEST_EASINESS, FURTHEST_EASINESS)])

    def log_prior(self, a: Numbers) -> float:
        """Return the prior's logarithm but for a constant."""
        if self.slope_log_sd is None:
            return 0.0
        return float(-0.5 * np.sum((np.log(a) / self.slope_log_sd) ** 2))


def fit_two_parameter(
    responses: Responses,
    nodes: int = DEFAULT_NODES,
    slope_log_sd: float | None = None,
    tolerance: float = 1e-6,
) -> TwoParameterFit:
    """Return slope a, easiness d and difficulty b = −d/a of each question.

    Parameters
    ----------
    nodes
        equal steps of ability from −6 to 6
    slope_log_sd
        standard deviation of the prior on ln a; None for no prior
    tolerance
        largest change of any parameter in the last EM step

    Raises
    ------
    TooFewToCompare
        fewer than three questions were answered both right and wrong
    NoMaximumFound

    Notes
    -----
    Without a prior a slope can grow without end; it stops at ±5 and the
    question is reported in `at_limit`.
    """
    used = estimable(responses, needed=3)
    kept = responses.only(used)
    fitting = _Fitting(
        kept, kept.right.T.tocsr(), kept.presented.T.tocsr(), ability_grid(nodes), slope_log_sd
    )
    share = kept.answered_right / kept.answered
    start = np.concatenate([np.ones(kept.items), np.log(share / (1 - share)) * 1.16])
    found = climb_to_maximum(lambda point: _step(fitting, point), start, fitting.within, tolerance)
    a, d = np.split(found, 2)
    return TwoParameterFit(with_gaps(used, a, d), _expected(fitting, a, d).log_likelihood)


def _expected(fitting: _Fitting, a: Numbers, d: Numbers) -> _Expected:
    logit = a[:, None] * fitting.grid.theta + d[:, None]
    softened = softplus(logit)
    log_joint = np.asarray(fitting.responses.right @ logit)
    if fitting.responses.complete:
        log_joint -= softened.sum(axis=0)
    else:
        log_joint -= fitting.responses.presented @ softened
    log_joint += fitting.grid.log_share
    found = posterior(log_joint, fitting.responses.counts)
    if fitting.responses.complete:
        asked = found.weight.sum(axis=0, keepdims=True)
    else:
        asked = np.asarray(fitting.presented_by_item @ found.weight)
    return _Expected(asked, np.asarray(fitting.right_by_item @ found.weight), found.log_likelihood)


def _step(fitting: _Fitting, point: Numbers) -> Climb:
    """One EM step: expected counts, then scoring steps on each question by itself."""
    a, d = np.split(point, 2)
    expected = _expected(fitting, a, d)
    height = expected.log_likelihood + fitting.log_prior(a)
    new = point
    for _ in range(NEWTON_STEPS):
        new = fitting.within(_scored(fitting, expected, new))
    return Climb(new, height)


def _scored(fitting: _Fitting, expected: _Expected, point: Numbers) -> Numbers:
    """Take one scoring step; with a prior in ln a, where it is a normal one."""
    theta = fitting.grid.theta
    a, d = np.split(point, 2)
    chance = chance_right(a[:, None] * theta + d[:, None])
    missed = expected.right - expected.asked * chance
    spread = expected.asked * chance * (1 - chance)
    to_a, to_d = missed @ theta, missed.sum(axis=1)
    a_a, a_d, d_d = spread @ theta**2, spread @ theta, spread.sum(axis=1)
    if fitting.slope_log_sd is not None:
        precision = fitting.slope_log_sd**-2
        to_a = to_a * a - precision * np.log(a)
        a_a, a_d = a_a * a**2 + precision, a_d * a
    held = _held(fitting, a, to_a)
    determinant = a_a * d_d - a_d**2
    change_a = np.where(held, 0.0, (to_a * d_d - to_d * a_d) / determinant)
    change_d = np.clip((to_d - a_d * change_a) / d_d, -1, 1)
    change_a = np.clip(change_a, -0.7, 0.7)
    moved = a + change_a if fitting.slope_log_sd is None else a * np.exp(change_a)
    return np.concatenate([moved, d + change_d])


def _held(fitting: _Fitting, a: Numbers, to_a: Numbers) -> Numbers:
    """Say which slopes stand at their limit and would go beyond it: only d moves there."""
    upper = (a >= LARGEST_SLOPE) & (to_a > 0)
    lower = (a <= -LARGEST_SLOPE) & (to_a < 0)
    return np.asarray(upper | lower)
