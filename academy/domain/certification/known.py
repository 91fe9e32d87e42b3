"""What one day's reckoning of one certificate starts from."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date, datetime

from academy.domain.certification.evidence import Evidence
from academy.domain.certification.register import Decision, Register
from academy.domain.certification.standing import Standing, standing
from academy.domain.curriculum.kinds import Supervision
from academy.domain.curriculum.schemes import Scheme

AGELESS_MONTHS = 12 * 200


@dataclass(frozen=True, slots=True)
class Known:
    """Evidence and decisions on one certificate, as they stand on one day.

    ``shown`` is what the evidence shows that day, ``shown_once`` the same were
    no practical ever too old.  ``held`` is the decision in force, ``latest`` that
    one or else the last to have ended; ``refused`` is the newest decision against.
    """

    scheme: Scheme
    evidence: Evidence
    register: Register
    today: date
    withdrawn: datetime | None
    shown: Standing
    shown_once: Standing
    granted: tuple[Decision, ...]
    held: Decision | None
    latest: Decision | None
    refused: Decision | None


def known_on(scheme: Scheme, evidence: Evidence, register: Register, today: date) -> Known:
    """Return what a day's reckoning starts from."""
    counted = counted_since(scheme.id, evidence, register)
    decisions = register.decisions_on(scheme.id)
    granted = tuple(one for one in decisions if one.granted)
    held = max((one for one in granted if ends(one) >= today), key=_weight, default=None)
    ageless = replace(scheme, term_months=AGELESS_MONTHS)
    return Known(
        scheme,
        counted,
        register,
        today,
        register.withdrawn_at(scheme.id),
        standing(scheme, counted, today),
        standing(ageless, counted, today),
        granted,
        held,
        held or max(granted, key=ends, default=None),
        next((one for one in reversed(decisions) if not one.granted), None),
    )


def counted_since(scheme_id: str, evidence: Evidence, register: Register) -> Evidence:
    """Return the evidence that counts: after a withdrawal everything is assessed anew."""
    withdrawn = register.withdrawn_at(scheme_id)
    if withdrawn is None:
        return evidence
    later = tuple(p for p in evidence.practicals if p.assessed_at > withdrawn)
    examinations = {
        name: day for name, day in evidence.examinations.items() if day > withdrawn.date()
    }
    return replace(evidence, practicals=later, examinations=examinations)


def tasks_up_to(scheme: Scheme, level: Supervision) -> frozenset[str]:
    """Return the tasks that a level and all below it ask for."""
    return frozenset(
        task for r in scheme.requirements if r.level.rank <= level.rank for task in r.evidence
    )


def lower(one: Supervision, other: Supervision) -> Supervision:
    """Return the lower of two levels."""
    return one if one.rank <= other.rank else other


def higher(one: Supervision, other: Supervision) -> Supervision:
    """Return the higher of two levels."""
    return one if one.rank >= other.rank else other


def ends(decision: Decision) -> date:
    """Return the last day of a decision; before all time for one against."""
    return decision.valid_until or date.min


def _weight(decision: Decision) -> tuple[int, date, datetime, str]:
    return decision.level.rank, ends(decision), decision.decided_at, str(decision.id)
