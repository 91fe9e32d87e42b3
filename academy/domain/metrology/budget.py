"""May this section be cut again?  The removal budget with a total-thickness gauge only.

The gauge cannot tell clear coat from what lies under it, so the budget is
counted from a baseline: the total before anybody polished.  Policy of this
platform, common practice without a published source: 8 µm over the panel's
life, or a quarter of the clear coat where its thickness is known and that is
less; never below 80 µm in all.  An owner may set other figures.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction
from typing import ClassVar

from academy.domain.metrology.exact import Written, exact
from academy.domain.sentences import Sentence

CAP_UM = 8
FLOOR_UM = 80
SHARE_OF_CLEAR = Fraction(1, 4)


class History(StrEnum):
    """What is known of the paint's past."""

    KNOWN = "known"
    UNKNOWN = "unknown"
    REPAINT = "repaint"


@dataclass(frozen=True, slots=True)
class Budget:
    """What may come off in all and what must stay on, in micrometres."""

    cap_um: Written = CAP_UM
    floor_um: Written = FLOOR_UM
    clear_um: Written | None = None

    def cap(self) -> Fraction:
        """Return the cap, or a quarter of a known clear coat where that is less."""
        cap = exact(self.cap_um)
        return cap if self.clear_um is None else min(cap, exact(self.clear_um) * SHARE_OF_CLEAR)


@dataclass(frozen=True, slots=True)
class PlannedStep:
    """What the next step is expected to take off, and how far that may be wrong."""

    removal_um: Written
    uncertainty_um: Written

    def worst(self) -> Fraction:
        """Return the most the step is expected to take."""
        return exact(self.removal_um) + exact(self.uncertainty_um)


@dataclass(frozen=True, slots=True)
class MayCut(Sentence):
    """The step fits into the budget."""

    template: ClassVar[str] = (
        "%(used_um).2f µm used and at most %(planned_um).2f µm planned stay within %(cap_um).2f µm."
    )
    used_um: float
    planned_um: float
    cap_um: float


@dataclass(frozen=True, slots=True)
class BudgetSpent(Sentence):
    """The step would take more than the budget leaves."""

    template: ClassVar[str] = (
        "%(used_um).2f µm used and up to %(planned_um).2f µm planned "
        "are more than the %(cap_um).2f µm allowed."
    )
    used_um: float
    planned_um: float
    cap_um: float


@dataclass(frozen=True, slots=True)
class TooThin(Sentence):
    """The thinnest spot would be left below the floor."""

    template: ClassVar[str] = (
        "The thinnest spot would be left at %(remaining_um).2f µm, below the floor of "
        "%(floor_um).2f µm."
    )
    remaining_um: float
    floor_um: float


@dataclass(frozen=True, slots=True)
class AskAboutHistory(Sentence):
    """Nobody knows what came off before the baseline."""

    template: ClassVar[str] = (
        "Ask: the paint's history is unknown, so the baseline may already lack clear coat. "
        "By the readings alone: %(by_readings)s"
    )
    by_readings: Sentence


@dataclass(frozen=True, slots=True)
class AskAboutRepaint(Sentence):
    """A repaint's layers are not the factory's."""

    template: ClassVar[str] = (
        "Ask: this panel was repainted, so its layers are not the factory's and the usual cap "
        "may not hold. By the readings alone: %(by_readings)s"
    )
    by_readings: Sentence


@dataclass(frozen=True, slots=True)
class AskAboutPlastic(Sentence):
    """No gauge of ours reads paint on plastic."""

    template: ClassVar[str] = (
        "Ask: magnetic and eddy-current gauges read nothing true on plastic, so there is no "
        "budget to count by. By the readings alone: %(by_readings)s"
    )
    by_readings: Sentence


@dataclass(frozen=True, slots=True)
class CutDecision:
    """Whether the section may be cut again: `allowed` None means ask the supervisor or owner.

    `left_um` is the budget before the planned step; below 0 it is overdrawn.
    """

    allowed: bool | None
    used_um: float
    left_um: float
    reason: Sentence


def may_cut_again(
    baseline_um: Written,
    now_um: Written,
    planned: PlannedStep,
    *,
    budget: Budget | None = None,
    minimum_now_um: Written | None = None,
    largest_used_um: Written = 0,
    history: History = History.KNOWN,
    on_plastic: bool = False,
) -> CutDecision:
    """Decide whether a planned step may be taken; equality is allowed.

    Parameters
    ----------
    baseline_um, now_um
        total thickness before anybody polished and now
    minimum_now_um
        the thinnest spot now; `now_um` where absent
    largest_used_um
        the most that was ever found used: noise does not give paint back

    Notes
    -----
    used = max(0, baseline − now, largest used so far); allowed when
    used + planned + uncertainty ≤ cap and thinnest − planned − uncertainty ≥ floor.
    Computed on the decimals as written, so that 'equal' means equal.
    """
    budget = budget or Budget()
    used = max(Fraction(0), exact(baseline_um) - exact(now_um), exact(largest_used_um))
    thinnest = exact(now_um if minimum_now_um is None else minimum_now_um)
    reason = _by_readings(used, thinnest, planned.worst(), budget)
    question = _question(history, on_plastic, reason)
    return CutDecision(
        allowed=isinstance(reason, MayCut) if question is None else None,
        used_um=float(used),
        left_um=float(budget.cap() - used),
        reason=question or reason,
    )


def _by_readings(used: Fraction, thinnest: Fraction, worst: Fraction, budget: Budget) -> Sentence:
    cap, floor = budget.cap(), exact(budget.floor_um)
    if used + worst > cap:
        return BudgetSpent(float(used), float(worst), float(cap))
    if thinnest - worst < floor:
        return TooThin(float(thinnest - worst), float(floor))
    return MayCut(float(used), float(worst), float(cap))


def _question(history: History, on_plastic: bool, by_readings: Sentence) -> Sentence | None:
    if on_plastic:
        return AskAboutPlastic(by_readings)
    if history is History.UNKNOWN:
        return AskAboutHistory(by_readings)
    return AskAboutRepaint(by_readings) if history is History.REPAINT else None
