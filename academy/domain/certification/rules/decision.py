"""What the sections of one task decide, by the rule the scheme names."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date

from academy.domain.assessment.sequential import Decision
from academy.domain.certification.evidence import PracticalEvidence
from academy.domain.certification.rules.by_outcomes import outcome_lines, walk_outcomes
from academy.domain.certification.rules.by_readings import bounds_of, readings_decide_after
from academy.domain.certification.rules.counted import CountedDay, counted_days, kinds_among
from academy.domain.certification.rules.missing import (
    CurvatureMissing,
    HardnessMissing,
    LikeSectionsMissing,
    PracticalsMissing,
    SeverityMissing,
    TaskMissing,
    clean_sections_missing,
)
from academy.domain.certification.rules.strictness import FIGURES, Figures
from academy.domain.curriculum.evidence_rules import EvidenceRule, RuleKind
from academy.domain.metrology.section_reading import SectionReading


@dataclass(frozen=True, slots=True)
class RuleDecision:
    """What one task's sections say today.

    ``decision`` is 'competent', 'not yet' (as much speaks against as the rule
    ever counts) or 'undecided'; ``missing`` is empty exactly for 'competent'.
    ``rests_on`` are the clean sections that count; the last one's day starts the term.
    """

    decision: Decision
    rests_on: tuple[PracticalEvidence, ...]
    spoiled: int
    missing: tuple[TaskMissing, ...]

    @property
    def competent(self) -> bool:
        """Return whether the rule is met."""
        return self.decision is Decision.COMPETENT

    @property
    def last_on(self) -> date | None:
        """Return the day of the last clean section that counts."""
        return max((practical.on for practical in self.rests_on), default=None)


def decide(
    rule: EvidenceRule, task_id: str, practicals: Iterable[PracticalEvidence]
) -> RuleDecision:
    """Return what the sections of one task decide.

    The sections may come in any order and more than once; the order within a
    day makes no difference.  A clean section on a later day never turns
    'competent' into anything less.
    """
    days = counted_days(rule, practicals)
    if rule.kind is RuleKind.IN_A_ROW:
        return _by_run(rule, task_id, days)
    return _by_weight(rule, task_id, days)


def straight_sections(rule: EvidenceRule) -> int:
    """Return how long a run the rule 'in a row' asks for."""
    return rule.sections if rule.sections is not None else FIGURES[rule.strictness].straight


def current_run(days: Sequence[CountedDay]) -> tuple[PracticalEvidence, ...]:
    """Return the latest unbroken run of clean sections.

    A day with a spoiled section ends the run and begins none: the run says
    what somebody can do now, and that day they could not.
    """
    run: tuple[PracticalEvidence, ...] = ()
    for day in days:
        run = () if day.spoiled else run + day.clean
    return run


def _by_run(rule: EvidenceRule, task_id: str, days: Sequence[CountedDay]) -> RuleDecision:
    run, needed = current_run(days), straight_sections(rule)
    short: list[TaskMissing] = []
    if len(run) < needed:
        short.append(PracticalsMissing(task_id, needed, len(run)))
    return _decided(rule, task_id, run, days, short, refused=False)


def _by_weight(rule: EvidenceRule, task_id: str, days: Sequence[CountedDay]) -> RuleDecision:
    figures = FIGURES[rule.strictness]
    lines = outcome_lines(figures)
    walk = walk_outcomes(lines, [len(d.spoiled) for d in days], [len(d.clean) for d in days])
    held = bool(walk.holds[-1]) if days else False
    weight = float(walk.weight[-1]) if days else 0.0
    clean = tuple(practical for day in days for practical in day.clean)
    short: list[TaskMissing] = []
    if not held and not (rule.kind is RuleKind.BY_READINGS and readings_decide(days, figures)):
        short.append(_short(rule, task_id, days, lines.straight_from(weight)))
    refused = weight >= lines.refuse
    return _decided(rule, task_id, clean, days, short, refused)


def readings_decide(days: Sequence[CountedDay], figures: Figures) -> bool:
    """Return whether the readings have shown enough: nothing spoiled, and the bound once met.

    The day's sections are put in smallest removal first and the bound is
    looked at after each, as if they had been worked one by one.
    """
    read = readings_so_far(days)
    return bool(read) and bool((bounds_of(read, figures) <= 0).any())


def readings_so_far(days: Sequence[CountedDay]) -> tuple[SectionReading, ...]:
    """Return the readings the bound rests on, in order; none once something has been spoiled.

    A section read with too coarse a gauge, or not at all, counts by its outcome alone.
    """
    if any(day.spoiled for day in days):
        return ()
    return tuple(
        reading
        for day in days
        for reading in sorted(
            (p.reading for p in day.clean if p.reading and p.reading.fine_enough),
            key=lambda reading: (reading.removed_um / reading.limit_um, reading.u_um),
        )
    )


def _short(
    rule: EvidenceRule, task_id: str, days: Sequence[CountedDay], straight: int
) -> TaskMissing:
    if rule.kind is RuleKind.BY_READINGS and (read := readings_so_far(days)):
        likely = readings_decide_after(read, FIGURES[rule.strictness])
        if likely is not None and likely < straight:
            return LikeSectionsMissing(task_id, likely)
    return clean_sections_missing(task_id, straight)


def _decided(
    rule: EvidenceRule,
    task_id: str,
    rests_on: tuple[PracticalEvidence, ...],
    days: Sequence[CountedDay],
    short: list[TaskMissing],
    refused: bool,
) -> RuleDecision:
    missing = (*short, *_mix_missing(rule, task_id, rests_on))
    decision = Decision.NOT_YET if refused else Decision.UNDECIDED
    if not missing:
        decision = Decision.COMPETENT
    spoiled = sum(len(day.spoiled) for day in days)
    return RuleDecision(decision, rests_on, spoiled, missing)


def _mix_missing(
    rule: EvidenceRule, task_id: str, clean: Sequence[PracticalEvidence]
) -> tuple[TaskMissing, ...]:
    have, asked = kinds_among(clean), rule.mix
    found: list[TaskMissing] = []
    if asked.curvature > 1 and have.curvature < asked.curvature:
        found.append(CurvatureMissing(task_id, asked.curvature, have.curvature))
    if asked.hardness > 1 and have.hardness < asked.hardness:
        found.append(HardnessMissing(task_id, asked.hardness, have.hardness))
    if asked.severity > 1 and have.severity < asked.severity:
        found.append(SeverityMissing(task_id, asked.severity, have.severity))
    return tuple(found)
