"""Climbing to a maximum faster than step by step.

The steps of an EM algorithm never go down but may be tiny.  From two of them
the length of a longer one is foreseen; it is taken only where it climbs.
R. Varadhan, C. Roland (2008), Scandinavian Journal of Statistics 35, 335
(scheme S3; page from memory).
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import ClassVar

import numpy as np
from numpy.typing import NDArray

from academy.domain.sentences import TradeError

Numbers = NDArray[np.float64]
MOST_STEPS = 6_000


@dataclass(eq=False)
class NoMaximumFound(TradeError):
    """The steps did not settle."""

    template: ClassVar[str] = (
        "the estimates do not settle within %(steps)d steps: too few responses for this model"
    )
    steps: int


@dataclass(frozen=True, slots=True, eq=False)
class Climb:
    """Where one step leads, and how high its start lies."""

    leads_to: Numbers
    height_at_start: float


def climb_to_maximum(
    step: Callable[[Numbers], Climb],
    start: Numbers,
    within: Callable[[Numbers], Numbers],
    tolerance: float,
) -> Numbers:
    """Return the point that a step moves by less than `tolerance` in every coordinate.

    `within` puts a foreseen point back into the range the step allows.

    Raises
    ------
    NoMaximumFound
    """
    here = start
    for _ in range(0, MOST_STEPS, 3):
        first = step(here)
        if _settled(here, first.leads_to, tolerance):
            return first.leads_to
        second = step(first.leads_to)
        if _settled(first.leads_to, second.leads_to, tolerance):
            return second.leads_to
        foreseen = within(_foreseen(here, first.leads_to, second.leads_to))
        third = step(foreseen)
        climbs = third.height_at_start >= second.height_at_start
        here = third.leads_to if climbs else second.leads_to
    raise NoMaximumFound(MOST_STEPS)


def _settled(before: Numbers, after: Numbers, tolerance: float) -> bool:
    return bool(np.max(np.abs(after - before)) < tolerance)


def _foreseen(start: Numbers, first: Numbers, second: Numbers) -> Numbers:
    moved = first - start
    bent = second - first - moved
    curve = float(np.linalg.norm(bent))
    longer = max(1.0, float(np.linalg.norm(moved)) / curve) if curve else 1.0
    return np.asarray(start + 2 * longer * moved + longer**2 * bent)
