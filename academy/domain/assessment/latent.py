"""Ability as a standard normal quantity, on equal steps from −6 to 6.

For the smooth integrands here equal steps are as exact as Gauss-Hermite nodes
and lie closer together where a long form makes the likelihood narrow
(trapezoidal rule; error falls as exp(−2π²s²/h²) for a posterior of standard
deviation s and steps h).
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Numbers = NDArray[np.float64]
FURTHEST = 6.0
DEFAULT_NODES = 61


@dataclass(frozen=True, slots=True, eq=False)
class AbilityGrid:
    """Abilities and the logarithm of their share among trainees; the shares add to 1."""

    theta: Numbers
    log_share: Numbers


def ability_grid(nodes: int = DEFAULT_NODES, furthest: float = FURTHEST) -> AbilityGrid:
    """Return `nodes` equal steps over a standard normal ability."""
    theta = np.linspace(-furthest, furthest, nodes)
    share = np.exp(-0.5 * theta**2)
    return AbilityGrid(theta, np.log(share / share.sum()))


@dataclass(frozen=True, slots=True, eq=False)
class Posterior:
    """Weight of each ability in each row (rows add to the persons in them) and the log-likelihood."""

    weight: Numbers
    log_likelihood: float


def posterior(log_joint: Numbers, counts: Numbers) -> Posterior:
    """Return what the responses say about ability; `log_joint` is rows × nodes and is used up."""
    largest = log_joint.max(axis=1)
    log_joint -= largest[:, None]
    weight = np.exp(log_joint, out=log_joint)
    total = weight.sum(axis=1)
    weight *= (counts / total)[:, None]
    return Posterior(weight, math.fsum(counts * (largest + np.log(total))))


def softplus(logit: Numbers) -> Numbers:
    """Return ln(1 + exp(logit)) without overflow."""
    return np.asarray(np.maximum(logit, 0) + np.log1p(np.exp(-np.abs(logit))))


def chance_right(logit: Numbers) -> Numbers:
    """Return 1/(1 + exp(−logit)) without overflow."""
    return np.asarray(0.5 * (1 + np.tanh(0.5 * logit)))
