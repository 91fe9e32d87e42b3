"""The chance of every score on a form, exactly, from the chance of each question.

The number right of independent questions with different chances, one question
folded in after another: F. M. Lord, M. S. Wingersky (1984), Applied
Psychological Measurement 8, 453 (page from memory).
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

Numbers = NDArray[np.float64]


def score_distribution(chances: Numbers) -> Numbers:
    """Return the chance of 0, 1, … n right.

    Parameters
    ----------
    chances : shape (n,) or (n, abilities)
        chance of a right answer to each question

    Returns
    -------
    shape (n + 1,) or (n + 1, abilities)
    """
    chances = np.asarray(chances, dtype=float)
    scores = np.zeros((len(chances) + 1, *chances.shape[1:]))
    scores[0] = 1.0
    for asked, chance in enumerate(chances, start=1):
        scores[1 : asked + 1] = scores[1 : asked + 1] * (1 - chance) + scores[:asked] * chance
        scores[0] *= 1 - chance
    return scores


def chance_of_passing(chances: Numbers, points_needed: int) -> Numbers:
    """Return the chance that so many answers or more are right."""
    return np.asarray(score_distribution(chances)[max(0, points_needed) :].sum(axis=0))
