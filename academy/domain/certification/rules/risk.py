"""What a rule risks: how many of those it should stop it lets through, how long the others need.

In a row and by outcomes depend on outcomes alone and are computed exactly, by
carrying the probability of each state from section to section.  By readings is
simulated on invented trainees; each share then has its simulation error.  A
day is one section here; a number per day or panel, and a mix, only lengthen it.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any

from academy.domain.certification.rules.by_outcomes import outcome_lines, walk_outcomes
from academy.domain.certification.rules.by_readings import (
    bounds_after_each,
    gauge_variance,
    log_ratio,
)
from academy.domain.certification.rules.decision import straight_sections
from academy.domain.certification.rules.strictness import FIGURES, UNWANTED, WANTED, Figures
from academy.domain.certification.rules.trainees import (
    ReadingPlan,
    SimulatedSections,
    Trainee,
    simulated_sections,
)
from academy.domain.curriculum.evidence_rules import EvidenceRule, RuleKind

Array = Any  # a numpy array; its shape stands in each docstring
Chance = Any  # a numpy.random.Generator
HORIZON = 20
LONGEST = 60
DRAWS = 20_000


@dataclass(frozen=True, slots=True)
class Share:
    """A share of trainees; ``error`` is its standard error where it was simulated, None where exact."""

    value: float
    error: float | None = None


@dataclass(frozen=True, slots=True)
class RuleRisk:
    """What a rule risks within so many sections.

    ``steady`` and ``two_mode`` are the shares passed of trainees who spoil three
    sections in ten: always a little near the limit, or excellent but for the
    ones they spoil.  ``median_sections`` is what one who spoils one in fifty
    needs, None where it is more than sixty.
    """

    within: int
    steady: Share
    two_mode: Share
    median_sections: int | None


def risk_of(
    rule: EvidenceRule, plan: ReadingPlan | None, chance: Chance, draws: int = DRAWS
) -> RuleRisk:
    """Return what a rule risks; ``plan`` is what the gauge does at the task, None without a limit."""
    wanted = passed_by(rule, Trainee.STEADY, WANTED, plan, chance, LONGEST, draws)
    steady = passed_by(rule, Trainee.STEADY, UNWANTED, plan, chance, HORIZON, draws)
    two_mode = passed_by(rule, Trainee.TWO_MODE, UNWANTED, plan, chance, HORIZON, draws)
    simulated = _reads(rule, plan)
    return RuleRisk(
        HORIZON,
        _share(float(steady[-1]), draws if simulated else None),
        _share(float(two_mode[-1]), draws if simulated else None),
        median_of(wanted),
    )


def passed_by(
    rule: EvidenceRule,
    trainee: Trainee,
    spoil_rate: float,
    plan: ReadingPlan | None,
    chance: Chance,
    sections: int,
    draws: int = DRAWS,
) -> Array:
    """Return the share that has passed by each section; shape (sections,)."""
    if rule.kind is RuleKind.IN_A_ROW:
        return run_passed_by(straight_sections(rule), spoil_rate, sections)
    if not _reads(rule, plan):
        return outcomes_passed_by(FIGURES[rule.strictness], spoil_rate, sections)
    assert plan is not None
    worked = simulated_sections(trainee, spoil_rate, plan, chance, (draws, sections))
    return readings_passed(FIGURES[rule.strictness], worked, plan).mean(axis=0)


def median_of(passed: Array) -> int | None:
    """Return the first section by which half have passed; ``passed`` has shape (sections,)."""
    import numpy as np

    enough = np.asarray(passed) >= 0.5
    return int(enough.argmax()) + 1 if enough.any() else None


def run_passed_by(straight: int, spoil_rate: float, sections: int) -> Array:
    """Return, exactly, the share that has had so many clean sections in a row; shape (sections,)."""
    import numpy as np

    at_run, passed = np.zeros(straight), np.zeros(sections)
    at_run[0], done = 1.0, 0.0
    for section in range(sections):
        done += at_run[-1] * (1 - spoil_rate)
        at_run[1:], at_run[0] = at_run[:-1] * (1 - spoil_rate), at_run.sum() * spoil_rate
        passed[section] = done
    return passed


def outcomes_passed_by(figures: Figures, spoil_rate: float, sections: int) -> Array:
    """Return, exactly, the share that has reached the accepting line; shape (sections,)."""
    import numpy as np

    lines = outcome_lines(figures)
    weights: Array = np.zeros(1)
    shares: Array = np.ones(1)
    done = 0.0
    passed = np.zeros(sections)
    for section in range(sections):
        reached = np.concatenate([lines.after(weights, 1, 0), lines.after(weights, 0, 1)])
        arriving = np.concatenate([shares * spoil_rate, shares * (1 - spoil_rate)])
        accepted = lines.accepts(reached)
        done += float(arriving[accepted].sum())
        weights, place = np.unique(reached[~accepted].round(9), return_inverse=True)
        shares = np.bincount(place, weights=arriving[~accepted], minlength=len(weights))
        passed[section] = done
    return passed


def readings_passed(figures: Figures, worked: SimulatedSections, plan: ReadingPlan) -> Array:
    """Return whether each trainee has passed by each section; shape (trainees, sections)."""
    import numpy as np

    spoiled = worked.spoiled
    by_outcomes = walk_outcomes(outcome_lines(figures), spoiled, ~spoiled).holds
    bounds = bounds_after_each(
        log_ratio(worked.removed_um, worked.resolves_um, plan.limit_um),
        gauge_variance(worked.removed_um, worked.resolves_um, worked.u_um),
        figures,
    )
    nothing_spoiled = ~np.maximum.accumulate(spoiled, axis=1)
    return np.maximum.accumulate(by_outcomes | ((bounds <= 0) & nothing_spoiled), axis=1)


def _reads(rule: EvidenceRule, plan: ReadingPlan | None) -> bool:
    return rule.kind is RuleKind.BY_READINGS and plan is not None and plan.fine_enough


def _share(value: float, draws: int | None) -> Share:
    return Share(value, math.sqrt(value * (1 - value) / draws) if draws else None)
