"""Which sections count, day by day.

A day is the smallest step: what order the sections of a day were worked or
entered in must not decide about anybody.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, timedelta

from academy.domain.certification.evidence import PracticalEvidence
from academy.domain.curriculum.evidence_rules import EvidenceRule, Mix

PANEL_COUNTS_AGAIN_AFTER = timedelta(days=365)


@dataclass(frozen=True, slots=True)
class CountedDay:
    """One day's sections of a task: the clean ones that count, and every spoiled one."""

    on: date
    clean: tuple[PracticalEvidence, ...]
    spoiled: tuple[PracticalEvidence, ...]


def counted_days(
    rule: EvidenceRule, practicals: Iterable[PracticalEvidence]
) -> tuple[CountedDay, ...]:
    """Return the days on which something counts, oldest first.

    A practical read twice counts once.  Beyond a day's or a panel's number
    clean sections are left out: of one day those with the smallest removal,
    of one panel the later ones.  Spoiled sections are never left out.
    """
    by_day: dict[date, list[PracticalEvidence]] = defaultdict(list)
    for practical in {p.practical_id: p for p in practicals}.values():
        by_day[practical.on].append(practical)
    days: list[CountedDay] = []
    for on in sorted(by_day):
        spoiled = tuple(p for p in _in_order(by_day[on]) if not p.clean)
        day = CountedDay(on, _allowed(rule, by_day[on], days), spoiled)
        if day.clean or day.spoiled:
            days.append(day)
    return tuple(days)


def kinds_among(clean: Iterable[PracticalEvidence]) -> Mix:
    """Return over how many kinds these sections are spread; what is not known adds nothing."""
    sections = [practical.section for practical in clean]
    return Mix(
        len({s.curvature for s in sections} - {None}),
        len({s.hardness for s in sections} - {None}),
        len({s.severity for s in sections} - {None}),
    )


def _allowed(
    rule: EvidenceRule, of_day: list[PracticalEvidence], before: list[CountedDay]
) -> tuple[PracticalEvidence, ...]:
    allowed: list[PracticalEvidence] = []
    for practical in _in_order(of_day):
        full_day = rule.per_day is not None and len(allowed) >= rule.per_day
        if practical.clean and not full_day and _panel_is_free(rule, practical, before, allowed):
            allowed.append(practical)
    return tuple(allowed)


def _panel_is_free(
    rule: EvidenceRule,
    practical: PracticalEvidence,
    before: list[CountedDay],
    allowed: list[PracticalEvidence],
) -> bool:
    panel = practical.section.panel_id
    if rule.per_panel is None or panel is None:
        return True
    since = practical.on - PANEL_COUNTS_AGAIN_AFTER
    counted = [p for day in before if day.on > since for p in day.clean] + allowed
    return sum(p.section.panel_id == panel for p in counted) < rule.per_panel


def _in_order(of_day: list[PracticalEvidence]) -> list[PracticalEvidence]:
    """Return a day's sections, largest removal first, so that the order of work is forgotten."""
    return sorted(of_day, key=lambda p: (-_removed(p), str(p.practical_id)))


def _removed(practical: PracticalEvidence) -> float:
    return practical.reading.removed_um if practical.reading else 0.0
