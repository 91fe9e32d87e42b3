"""What is known of one wording, and who is abler: the takers of a part or the others."""

from __future__ import annotations

import math
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Correlation:
    """A correlation with its 95 % interval."""

    value: float
    lower: float
    upper: float


@dataclass(frozen=True, slots=True)
class PartTaken:
    """How many answers held a part, and what share of the other questions those people had right.

    ``compared`` of them were asked other questions too; ``rest_mean`` and
    ``rest_sd`` are None where that is nobody, or one person.
    """

    name: str
    right: bool
    taken: int
    compared: int
    rest_mean: float | None
    rest_sd: float | None


@dataclass(frozen=True, slots=True)
class Evidence:
    """What is known of one wording.  ``rest_mean`` and ``rest_sd`` are over all who were asked."""

    answered: int
    right: int
    blank: int
    compared: int
    item_rest: Correlation | None
    parts: tuple[PartTaken, ...]
    rest_mean: float | None
    rest_sd: float | None


def abler_by(first: PartTaken, second: PartTaken, fewest: int = 5) -> float | None:
    """Return how many standard errors the takers of one part lie above those of another.

    Difference of the mean shares right of the other questions over its standard
    error √(s₁²/n₁ + s₂²/n₂) (B. L. Welch 1938, Biometrika 29, 350; page from
    memory).  None where fewer than ``fewest`` of either can be compared, or
    nothing varies.
    """
    if min(first.compared, second.compared) < fewest:
        return None
    assert first.rest_mean is not None
    assert second.rest_mean is not None
    variance = sum((part.rest_sd or 0.0) ** 2 / part.compared for part in (first, second))
    return (first.rest_mean - second.rest_mean) / math.sqrt(variance) if variance > 0 else None


def others_than(evidence: Evidence, part: PartTaken) -> PartTaken:
    """Return those who were asked and did not take a part, as if that were a part of its own."""
    compared = evidence.compared - part.compared
    total = _sum(evidence) - _sum(part)
    squares = _squares(evidence) - _squares(part)
    mean = total / compared if compared else None
    spread = squares - total**2 / compared if compared else 0.0
    return PartTaken(
        name="",
        right=False,
        taken=evidence.answered - part.taken,
        compared=compared,
        rest_mean=mean,
        rest_sd=math.sqrt(max(0.0, spread) / (compared - 1)) if compared > 1 else None,
    )


def _sum(group: Evidence | PartTaken) -> float:
    return group.compared * (group.rest_mean or 0.0)


def _squares(group: Evidence | PartTaken) -> float:
    mean, sd = group.rest_mean or 0.0, group.rest_sd or 0.0
    return (group.compared - 1) * sd**2 + group.compared * mean**2 if group.compared else 0.0
