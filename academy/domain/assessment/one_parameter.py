"""How hard each question is, with one slope for all: the one-parameter logistic model.

logit P(right) = a·θ + d_i with θ ~ N(0, 1): the Rasch model with a free
variance a², fitted by marginal maximum likelihood.  R. D. Bock, M. Aitkin
(1981), Psychometrika 46, 443; D. Thissen (1982), Psychometrika 47, 175 (pages
from memory).
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, ClassVar

import numpy as np
from numpy.typing import NDArray

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
    Posterior,
    ability_grid,
    chance_right,
    posterior,
    softplus,
)
from academy.domain.assessment.responses import Responses
from academy.domain.sentences import TradeError

# Below this slope the likelihood is flat: abilities do not differ measurably.
SMALLEST_SLOPE = 1e-3
NEWTON_STEPS = 2
# Where a question is foreseen so easy that nobody is expected to miss it, its curvature is 0.
SMALLEST_CURVATURE = 1e-12


@dataclass(eq=False)
class AbilitiesDoNotDiffer(TradeError):
    """The common slope is 0: difficulties in units of ability do not exist."""

    template: ClassVar[str] = (
        "these responses show no difference in ability between persons, so questions cannot be "
        "placed on its scale: look at the share right instead"
    )


@dataclass(frozen=True, slots=True, eq=False)
class OneParameterFit:
    """The fitted model; `parameters.a` holds the common slope for every question."""

    parameters: ItemParameters
    slope: float
    log_likelihood: float

    @property
    def variance(self) -> float:
        """The variance of ability where the slope is set to 1."""
        return self.slope**2


@dataclass(frozen=True, slots=True, eq=False)
class _Expected:
    """Persons expected at each ability, asked each question (one row where all were asked all)."""

    asked: Numbers
    score_times_ability: float
    log_likelihood: float


@dataclass(frozen=True, slots=True, eq=False)
class _Table:
    """The sufficient statistics: persons with each score on the same questions, right answers per item."""

    score: Numbers
    counts: Numbers
    right: Numbers
    presented: Any
    presented_by_item: Any
    slope_log_sd: float | None

    def normaliser(self, softened: Numbers) -> Numbers:
        """Add ln(1 + exp(logit)) over the questions each row was asked."""
        if self.presented is None:
            return np.asarray(softened.sum(axis=0, keepdims=True))
        return np.asarray(self.presented @ softened)

    def log_prior(self, slope: float) -> float:
        """Return the prior's logarithm but for a constant."""
        return -0.5 * (np.log(slope) / self.slope_log_sd) ** 2 if self.slope_log_sd else 0.0

    def asked(self, found: Posterior) -> Numbers:
        """Return how many persons of each ability were asked each question."""
        if self.presented_by_item is None:
            return np.asarray(found.weight.sum(axis=0, keepdims=True))
        return np.asarray(self.presented_by_item @ found.weight)


def fit_one_parameter(
    responses: Responses,
    nodes: int = DEFAULT_NODES,
    slope_log_sd: float | None = None,
    tolerance: float = 1e-6,
) -> OneParameterFit:
    """Return slope, easiness d and difficulty b = −d/a of each question.

    Parameters
    ----------
    nodes
        equal steps of ability from −6 to 6
    slope_log_sd
        standard deviation of a prior on ln a, centred on a = 1; None for no prior
    tolerance
        largest change of any parameter in the last EM step, in logits

    Raises
    ------
    TooFewToCompare
        fewer than two questions were answered both right and wrong
    AbilitiesDoNotDiffer, NoMaximumFound

    Notes
    -----
    A question that everybody answered alike has no finite d; it says nothing
    about ability and is left out (NaN, reported in `at_limit`).
    """
    used = estimable(responses)
    table, grid = _table(responses.only(used), slope_log_sd), ability_grid(nodes)
    found = climb_to_maximum(
        lambda point: _step(table, grid, point), _start(responses.only(used)), _within, tolerance
    )
    slope, d = float(found[0]), found[1:]
    if slope < SMALLEST_SLOPE:
        raise AbilitiesDoNotDiffer
    return OneParameterFit(
        with_gaps(used, np.full(len(d), slope), d),
        slope,
        _expected(table, grid, slope, d).log_likelihood,
    )


def _table(responses: Responses, slope_log_sd: float | None) -> _Table:
    right, score = responses.answered_right, responses.score
    if responses.complete:
        # Who has the same score on the same questions has the same likelihood but for a constant.
        counts = np.bincount(score.astype(int), weights=responses.counts).astype(float)
        kept = np.flatnonzero(counts)
        return _Table(kept.astype(float), counts[kept], right, None, None, slope_log_sd)
    return _Table(
        score,
        responses.counts,
        right,
        responses.presented,
        responses.presented.T.tocsr(),
        slope_log_sd,
    )


def _start(responses: Responses) -> Numbers:
    share = responses.answered_right / responses.answered
    return np.concatenate([[1.0], np.log(share / (1 - share)) * 1.16])


def _within(point: Numbers) -> Numbers:
    point[0] = np.clip(point[0], SMALLEST_SLOPE / 10, LARGEST_SLOPE)
    return point


def _expected(table: _Table, grid: AbilityGrid, slope: float, d: Numbers) -> _Expected:
    softened = softplus(slope * grid.theta + d[:, None])
    log_joint = np.outer(table.score, slope * grid.theta)
    log_joint -= table.normaliser(softened)
    log_joint += grid.log_share
    found = posterior(log_joint, table.counts)
    return _Expected(
        table.asked(found),
        float(table.score @ (found.weight @ grid.theta)),
        found.log_likelihood + float(table.right @ d),
    )


def _step(table: _Table, grid: AbilityGrid, point: Numbers) -> Climb:
    """One EM step: expected counts, then Newton steps on slope and easiness together."""
    expected = _expected(table, grid, float(point[0]), point[1:])
    new = point
    for _ in range(NEWTON_STEPS):
        new = _within(_newton(table, grid.theta, expected, new))
    return Climb(new, expected.log_likelihood + table.log_prior(float(point[0])))


def _newton(table: _Table, theta: Numbers, expected: _Expected, point: Numbers) -> Numbers:
    chance = chance_right(point[0] * theta + point[1:, None])
    right = expected.asked * chance
    spread = right * (1 - chance)
    gradient_d = table.right - right.sum(axis=1)
    gradient_a = expected.score_times_ability - float((right @ theta).sum())
    d_d, a_d, a_a = spread.sum(axis=1), spread @ theta, float((spread @ theta**2).sum())
    if table.slope_log_sd is not None:
        strength = (point[0] * table.slope_log_sd) ** -2
        gradient_a -= float(np.log(point[0]) * point[0] * strength)
        a_a += float(strength)
    d_d = np.maximum(d_d, SMALLEST_CURVATURE)
    left = max(a_a - float(a_d @ (a_d / d_d)), SMALLEST_CURVATURE)
    change_a = (gradient_a - float(a_d @ (gradient_d / d_d))) / left
    change_d = (gradient_d - a_d * change_a) / d_d
    return np.asarray(point + np.clip(np.concatenate([[change_a], change_d]), -1, 1))


def rasch_difficulties(fit: OneParameterFit) -> NDArray[np.float64]:
    """Return difficulties in logits (slope 1), centred on 0: the scale of the conditional estimates."""
    d = fit.parameters.d
    return np.asarray(np.nanmean(d) - d)
