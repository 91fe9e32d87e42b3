"""Was more removed than the task allows?  Within, exceeded, or the readings cannot tell.

A decision rule with the whole uncertainty as guard band on both sides: JCGM
106:2012 clause 8.3 (clause number from memory).  Judged spot by spot, because
a panel burns through at its worst spot and not at its mean.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import Enum
from typing import ClassVar

from academy.domain.metrology.removal import SpotRemoval
from academy.domain.sentences import Sentence


class Outcome(Enum):
    """The three answers to 'is the removal within the limit?'."""

    WITHIN = "within"
    EXCEEDED = "exceeded"
    CANNOT_TELL = "cannot tell"


@dataclass(frozen=True, slots=True)
class Within(Sentence):
    """Every spot's upper bound is at or below the limit."""

    template: ClassVar[str] = (
        "Within the limit: even the largest upper bound, %(upper_um).2f µm at spot %(spot)d, "
        "is not above %(limit_um).2f µm."
    )
    outcome: ClassVar[Outcome] = Outcome.WITHIN
    limit_um: float
    spot: int
    upper_um: float


@dataclass(frozen=True, slots=True)
class Exceeded(Sentence):
    """Some spot's lower bound is above the limit."""

    template: ClassVar[str] = (
        "Limit exceeded: at spot %(spot)d at least %(lower_um).2f µm came off, "
        "more than %(limit_um).2f µm."
    )
    outcome: ClassVar[Outcome] = Outcome.EXCEEDED
    limit_um: float
    spot: int
    lower_um: float


@dataclass(frozen=True, slots=True)
class CannotTell(Sentence):
    """The limit lies inside a spot's interval."""

    template: ClassVar[str] = (
        "Cannot tell: at spot %(spot)d between %(lower_um).2f and %(upper_um).2f µm came off, "
        "and the limit is %(limit_um).2f µm. Take more readings at the same spots."
    )
    outcome: ClassVar[Outcome] = Outcome.CANNOT_TELL
    limit_um: float
    spot: int
    lower_um: float
    upper_um: float


@dataclass(frozen=True, slots=True)
class ScatterUnknown(Sentence):
    """A spot has single readings and the gauge's repeatability is not known."""

    template: ClassVar[str] = (
        "Cannot tell: spot %(spot)d has single readings, and without the gauge's repeatability "
        "nothing says how far %(removed_um).2f µm may be off. Read each spot at least twice."
    )
    outcome: ClassVar[Outcome] = Outcome.CANNOT_TELL
    limit_um: float
    spot: int
    removed_um: float


Verdict = Within | Exceeded | CannotTell | ScatterUnknown


@dataclass(frozen=True, slots=True)
class _Bounded:
    number: int
    lower_um: float
    upper_um: float


def judge_removal(per_spot: Sequence[SpotRemoval], limit_um: float) -> Verdict:
    """Return the verdict on the spots' removals against `limit_um`.

    Spots are numbered from 1, as they are marked on the panel.  One spot
    surely above the limit decides, whatever the others say; a spot that
    nobody can judge keeps the panel from being 'within'.
    """
    if not per_spot:
        raise ValueError("a verdict needs at least one spot")
    bounded = [
        _Bounded(number, spot.lower_um, spot.upper_um)
        for number, spot in enumerate(per_spot, start=1)
        if spot.lower_um is not None and spot.upper_um is not None
    ]
    worst = max(bounded, key=lambda spot: spot.lower_um, default=None)
    if worst is not None and worst.lower_um > limit_um:
        return Exceeded(limit_um, worst.number, worst.lower_um)
    highest = max(bounded, key=lambda spot: spot.upper_um, default=None)
    if highest is not None and highest.upper_um > limit_um:
        return CannotTell(limit_um, highest.number, highest.lower_um, highest.upper_um)
    for number, spot in enumerate(per_spot, start=1):
        if spot.upper_um is None:
            return ScatterUnknown(limit_um, number, spot.removed_um)
    assert highest is not None
    return Within(limit_um, highest.number, highest.upper_um)
