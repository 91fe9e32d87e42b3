"""What one person's responses say about ability."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from academy.domain.assessment.latent import Numbers, ability_grid, softplus

# Wider and finer than for fitting: one person costs nothing, and a rare pattern pulls far out.
NODES = 1001
FURTHEST = 10.0


@dataclass(frozen=True, slots=True)
class Ability:
    """Posterior mean and standard deviation of θ, where θ ~ N(0, 1) among trainees."""

    mean: float
    sd: float


def ability_of(a: Numbers, d: Numbers, responses: Sequence[int | None]) -> Ability:
    """Return the posterior mean of ability and its standard deviation.

    R. D. Bock, R. J. Mislevy (1982), Applied Psychological Measurement 6, 431
    (page from memory).  Finite also where everything is right or wrong, where
    no maximum-likelihood estimate exists.

    Parameters
    ----------
    a, d : shape (questions,)
        logit P(right) = a·θ + d
    responses
        1 right, 0 wrong, None not presented (skipped)
    """
    grid = ability_grid(NODES, FURTHEST)
    asked = np.array([given is not None for given in responses])
    right = np.array([given == 1 for given in responses])[asked]
    logit = a[asked, None] * grid.theta + d[asked, None]
    log_joint = grid.log_share - np.where(right[:, None], softplus(-logit), softplus(logit)).sum(0)
    weight = np.exp(log_joint - log_joint.max())
    weight /= weight.sum()
    mean = float(weight @ grid.theta)
    return Ability(mean, float(np.sqrt(weight @ (grid.theta - mean) ** 2)))
