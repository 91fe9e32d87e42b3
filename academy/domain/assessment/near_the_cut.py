"""What a trainee exactly at the pass mark can do, by the one-parameter model."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np

from academy.domain.assessment.item_parameters import ItemParameters, Numbers
from academy.domain.assessment.latent import FURTHEST, chance_right
from academy.domain.assessment.mending import NearCut

HALVINGS = 60


def ability_at_cut(parameters: ItemParameters, cut: float) -> float | None:
    """Return the ability whose expected score reaches the cut; None where none between ±6 does.

    Questions without a finite estimate have to be left out of ``parameters``.
    """
    low, high = -FURTHEST, FURTHEST
    if not _expected(parameters, low) < cut < _expected(parameters, high):
        return None
    for _ in range(HALVINGS):
        middle = (low + high) / 2
        low, high = (middle, high) if _expected(parameters, middle) < cut else (low, middle)
    return (low + high) / 2


def near_cut(
    parameters: ItemParameters, ratings_percent: Sequence[int], answered: Sequence[int]
) -> tuple[NearCut | None, ...]:
    """Return for each question what those at the pass mark of all of them together get right.

    The pass mark is the sum of the ratings (Angoff); the ability there is found
    from all questions that have an estimate, so one bad rating moves it little.
    The error is that of a share of so many answers, √(p(1 − p)/n), with one right
    and one wrong answer added so that it does not vanish where all were alike.
    """
    known = ~np.isnan(parameters.d)
    kept = ItemParameters(parameters.a[known], parameters.d[known])
    cut = float(np.array(ratings_percent, dtype=float)[known].sum() / 100)
    theta = ability_at_cut(kept, cut)
    if theta is None:
        return (None,) * len(known)
    chances = chance_right(parameters.a * theta + parameters.d)
    return tuple(
        _near_cut(float(p), n) if k and n else None
        for p, n, k in zip(chances, answered, known, strict=True)
    )


def _near_cut(chance: float, answered: int) -> NearCut:
    drawn_in = (chance * answered + 1) / (answered + 2)
    error = math.sqrt(drawn_in * (1 - drawn_in) / (answered + 2))
    return NearCut(round(100 * chance), 100 * error)


def _expected(parameters: ItemParameters, theta: float) -> float:
    values: Numbers = chance_right(parameters.a * theta + parameters.d)
    return float(values.sum())
