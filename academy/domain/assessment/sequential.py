"""Decide from panel after panel: competent, not yet, or keep going.

A. Wald (1947), Sequential Analysis, ch. 5: a test of an acceptable failure
rate p0 against an unacceptable one p1.  Drawn as a learning curve: failures
against panels, with two parallel lines.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from enum import Enum
from typing import ClassVar

from academy.domain.sentences import TradeError

# Two logarithms that should be equal differ in their last digits; a point on the line is on the line.
ON_THE_LINE = 1e-9
UNDECIDED_MASS = 1e-12
MOST_TRIALS = 200_000
WIDEST_CHART = 5_000


@dataclass(eq=False)
class NoDecisionInSight(TradeError):
    """The two rates are so close that the recursion would not end in reasonable time."""

    template: ClassVar[str] = (
        "p0 and p1 are so close that more than %(trials)d panels may be needed: choose rates further apart"
    )
    trials: int


class Decision(Enum):
    """What the panels so far say."""

    COMPETENT = "competent"
    NOT_YET = "not yet"
    UNDECIDED = "undecided"


@dataclass(frozen=True, slots=True)
class SequentialRule:
    """Two lines over n panels: accept at s·n − h0 failures or fewer, refuse at s·n + h1 or more."""

    s: float
    h0: float
    h1: float

    def decide(self, failures: int, panels: int) -> Decision:
        """Return the decision at a point of the chart."""
        undecided = self.undecided_failures(panels)
        if failures in undecided:
            return Decision.UNDECIDED
        return Decision.COMPETENT if failures < undecided.start else Decision.NOT_YET

    def undecided_failures(self, panels: int) -> range:
        """Return the counts of failures that leave it undecided after so many panels."""
        accepted = math.floor(self.s * panels - self.h0 + ON_THE_LINE)
        refused = math.ceil(self.s * panels + self.h1 - ON_THE_LINE)
        return range(accepted + 1, max(accepted + 1, refused))

    @property
    def straight_passes(self) -> int:
        """The fewest panels, all passed, that decide for competent."""
        return math.ceil((self.h0 - ON_THE_LINE) / self.s)


def sequential_rule(p0: float, p1: float, alpha: float, beta: float) -> SequentialRule:
    """Return the lines for failure rates p0 < p1 and the two risks, alpha + beta < 1.

    `alpha` is the risk of refusing a trainee who fails at p0, `beta` of
    accepting one who fails at p1.  P = ln(p1/p0), Q = ln((1−p0)/(1−p1)),
    s = Q/(P+Q), h0 = ln((1−alpha)/beta)/(P+Q), h1 = ln((1−beta)/alpha)/(P+Q).
    """
    rise = math.log(p1 / p0)
    fall = math.log1p(-p0) - math.log1p(-p1)
    return SequentialRule(
        s=fall / (rise + fall),
        h0=math.log((1 - alpha) / beta) / (rise + fall),
        h1=math.log((1 - beta) / alpha) / (rise + fall),
    )


@dataclass(frozen=True, slots=True)
class SequentialOutcome:
    """The decision and after how many panels it fell; None while undecided."""

    decision: Decision
    decided_after: int | None


def judge_panels(rule: SequentialRule, passed: Sequence[bool]) -> SequentialOutcome:
    """Walk through the panels and stop at the first crossing; later panels change nothing."""
    failures = 0
    for panels, good in enumerate(passed, start=1):
        failures += not good
        decision = rule.decide(failures, panels)
        if decision is not Decision.UNDECIDED:
            return SequentialOutcome(decision, panels)
    return SequentialOutcome(Decision.UNDECIDED, None)


@dataclass(frozen=True, slots=True)
class OperatingPoint:
    """The chance of acceptance and the mean number of panels at one true failure rate."""

    accept: float
    mean_trials: float


def operating_characteristic(rule: SequentialRule, failure_rate: float) -> OperatingPoint:
    """Return acceptance and mean length at a true failure rate, by exact forward recursion.

    The probability of each count of failures still undecided is carried from
    panel to panel until less than 1e-12 is undecided.  Wald's formula for the
    mean length is several percent low, because the chart moves in whole panels.

    Raises
    ------
    NoDecisionInSight
        after 200,000 panels something is still undecided, or the lines lie
        more than 5,000 failures apart
    """
    import numpy as np

    if rule.h0 + rule.h1 > WIDEST_CHART:
        raise NoDecisionInSight(MOST_TRIALS)
    step = np.array([1 - failure_rate, failure_rate])
    undecided, fewest = np.ones(1), 0
    accepted, lengths = 0.0, [1.0]
    for panels in range(1, MOST_TRIALS + 1):
        spread = np.convolve(undecided, step)
        between = rule.undecided_failures(panels)
        cut = max(0, between.start - fewest)
        accepted += float(spread[:cut].sum())
        undecided = spread[cut : max(cut, between.stop - fewest)]
        fewest = max(fewest, between.start)
        lengths.append(float(undecided.sum()))
        if lengths[-1] < UNDECIDED_MASS:
            return OperatingPoint(accepted, math.fsum(lengths))
    raise NoDecisionInSight(MOST_TRIALS)
