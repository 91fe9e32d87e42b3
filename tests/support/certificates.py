"""Builders for what is decided about certificates; every argument has a sound default."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import UTC, date, datetime, time, timedelta
from typing import Any
from uuid import UUID, uuid4

from academy.domain.certification import Decision, Evidence, PracticalEvidence, Restriction
from academy.domain.curriculum.kinds import Harm, Supervision
from academy.domain.curriculum.schemes import DecisionRule, RecertificationRule, Scheme
from tests.support.course import a_scheme

TASK = "polish a section"
DAY = date(2026, 3, 2)
DECIDER = UUID("00000000-0000-4000-8000-00000000000c")
FIRST_SUPERVISOR = UUID("00000000-0000-4000-8000-00000000000b")
SECOND_SUPERVISOR = UUID("00000000-0000-4000-8000-00000000000d")


def at_noon(day: date) -> datetime:
    """Return the middle of a day."""
    return datetime.combine(day, time(12), UTC)


def a_decided_scheme(**overrides: Any) -> Scheme:
    """Return the scheme of three levels, decided on from 'supervisor on site' up."""
    fields: dict[str, Any] = {
        "decision": DecisionRule(Supervision.ON_SITE),
        "recertification": RecertificationRule({TASK: 1}, 3),
        "return_check_months": 6,
        "suspended_by": (Harm.BURN_THROUGH, Harm.INJURY),
    }
    return a_scheme(**(fields | overrides))


def done(on: date, competent: bool = True, **overrides: Any) -> PracticalEvidence:
    """Return one assessed practical, in the morning of a day."""
    fields: dict[str, Any] = {
        "practical_id": uuid4(),
        "task_id": TASK,
        "competent": competent,
        "assessed_at": datetime.combine(on, time(10), UTC),
        "supervisor_id": FIRST_SUPERVISOR,
    }
    return PracticalEvidence(**(fields | overrides))


def runs(pattern: str, first: date = DAY) -> tuple[PracticalEvidence, ...]:
    """Return a practical a day: 'c' competent, 'n' not yet competent."""
    return tuple(done(first + timedelta(days=day), mark == "c") for day, mark in enumerate(pattern))


def evidence(practicals: Iterable[PracticalEvidence] = (), *, passed: bool = True) -> Evidence:
    """Return evidence with the module passed on DAY."""
    return Evidence({"safety": DAY} if passed else {}, tuple(practicals))


def decided(
    on: date, level: Supervision = Supervision.ALONE, until: date | None = date(2027, 3, 2)
) -> Decision:
    """Return a decision for a level; against it where ``until`` is None."""
    return Decision(uuid4(), "polishing", level, at_noon(on), DECIDER, until)


def restricted(level: Supervision, scheme_id: str | None = "polishing") -> Restriction:
    """Return a restriction from DAY on."""
    return Restriction(uuid4(), scheme_id, level, at_noon(DAY), date(2026, 9, 1))
