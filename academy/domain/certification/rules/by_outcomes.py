"""Weighing clean against spoiled sections.

A. Wald (1947), Sequential Analysis, ch. 5: the logarithm of the likelihood
ratio of 'spoils three in ten' to 'spoils one in fifty' is added up from
section to section and compared with two lines.  Unlike Wald's test this one
goes on after a line is met, because a trainee goes on working: the sum stays
between the lines (E. S. Page 1954, Biometrika 41, 100, holds his at one of
them).  A bad start is then never worse than standing at the refusing line,
and years of clean work hide a bad month no longer than standing at the other.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from academy.domain.certification.rules.strictness import UNWANTED, WANTED, Figures

Array = Any  # a numpy array; its shape stands in each docstring
# Two logarithms that should be equal differ in their last digits.
ON_THE_LINE = 1e-9


@dataclass(frozen=True, slots=True)
class OutcomeLines:
    """What a spoiled section adds, a clean one takes away, and the lines at −accept and +refuse."""

    spoiled: float
    clean: float
    accept: float
    refuse: float

    def after(self, weight: Array, spoiled: Array, clean: Array) -> Array:
        """Return the weight after a day with so many spoiled and clean sections; any shape."""
        import numpy as np

        return np.clip(
            weight + spoiled * self.spoiled - clean * self.clean, -self.accept, self.refuse
        )

    def accepts(self, weight: Array) -> Array:
        """Return whether the accepting line is reached; any shape."""
        return weight <= -self.accept + ON_THE_LINE

    def holds(self, held: Array, weight: Array) -> Array:
        """Return whether somebody accepted stays so: until the record speaks as much against as for."""
        return self.accepts(weight) | (held & (weight < -ON_THE_LINE))

    def straight_from(self, weight: float) -> int:
        """Return how many clean sections, none spoiled between them, reach the accepting line."""
        return max(0, math.ceil((weight + self.accept - ON_THE_LINE) / self.clean))


def outcome_lines(figures: Figures) -> OutcomeLines:
    """Return the lines for a strictness: ln(p1/p0), ln((1−p0)/(1−p1)), ln((1−α)/β), ln((1−β)/α)."""
    return OutcomeLines(
        spoiled=math.log(UNWANTED / WANTED),
        clean=math.log1p(-WANTED) - math.log1p(-UNWANTED),
        accept=math.log((1 - figures.refused_wanted) / figures.passed_unwanted),
        refuse=math.log((1 - figures.passed_unwanted) / figures.refused_wanted),
    )


@dataclass(frozen=True, slots=True)
class OutcomeWalk:
    """The weight and whether it is enough, after each day; both of shape (..., days)."""

    weight: Array
    holds: Array


def walk_outcomes(
    lines: OutcomeLines, spoiled: Sequence[int] | Array, clean: Sequence[int] | Array
) -> OutcomeWalk:
    """Walk through days with so many spoiled and clean sections each; shape (..., days).

    The days of one person have shape (days,); of many at once, (persons, days).
    """
    import numpy as np

    spoiled, clean = np.asarray(spoiled, dtype=float), np.asarray(clean, dtype=float)
    weights, held = np.zeros(spoiled.shape), np.zeros(spoiled.shape, dtype=bool)
    weight, holds = np.zeros(spoiled.shape[:-1]), np.zeros(spoiled.shape[:-1], dtype=bool)
    for day in range(spoiled.shape[-1]):
        weight = lines.after(weight, spoiled[..., day], clean[..., day])
        holds = lines.holds(holds, weight)
        weights[..., day], held[..., day] = weight, holds
    return OutcomeWalk(weights, held)
