"""What a response model says about each question, and which questions it can speak about."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

import numpy as np
from numpy.typing import NDArray

from academy.domain.assessment.responses import Responses
from academy.domain.sentences import TradeError

Numbers = NDArray[np.float64]
LARGEST_SLOPE = 5.0
# A slope this near the largest would go beyond it if it could.
AT_LARGEST = 1e-6


@dataclass(eq=False)
class TooFewToCompare(TradeError):
    """A model of ability needs questions that tell persons apart."""

    template: ClassVar[str] = (
        "at least %(needed)d questions have to be answered right by some and wrong by others; "
        "%(given)d are"
    )
    given: int
    needed: int


@dataclass(frozen=True, slots=True, eq=False)
class ItemParameters:
    """logit P(right) = a·θ + d for each question; NaN where it has no finite estimate."""

    a: Numbers
    d: Numbers

    @property
    def b(self) -> Numbers:
        """Difficulty: the ability at which half answer right, −d/a."""
        with np.errstate(divide="ignore", invalid="ignore"):
            return np.where(self.a == 0, np.nan, -self.d / self.a)

    @property
    def at_limit(self) -> tuple[int, ...]:
        """Questions, from 0, without a finite estimate or with a slope beyond 5."""
        beyond = np.isnan(self.d) | (np.abs(self.a) > LARGEST_SLOPE - AT_LARGEST)
        return tuple(int(item) for item in np.flatnonzero(beyond))


def estimable(responses: Responses, needed: int = 2) -> NDArray[np.bool_]:
    """Say which questions some answered right and others wrong.

    Raises
    ------
    TooFewToCompare
    """
    right, answered = responses.answered_right, responses.answered
    used = (right > 0) & (right < answered)
    if used.sum() < needed:
        raise TooFewToCompare(int(used.sum()), needed)
    return np.asarray(used)


def with_gaps(used: NDArray[np.bool_], a: Numbers, d: Numbers) -> ItemParameters:
    """Put estimates of the questions used at their places, NaN elsewhere."""
    full_a, full_d = np.full(len(used), np.nan), np.full(len(used), np.nan)
    full_a[used], full_d[used] = a, d
    return ItemParameters(full_a, full_d)
