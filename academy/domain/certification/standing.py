"""What is true today: the level at which a person may do a kind of work, and what is missing."""

from __future__ import annotations

import calendar
from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date
from types import MappingProxyType

from academy.domain.certification.evidence import Evidence
from academy.domain.certification.rules.decision import decide
from academy.domain.certification.rules.missing import TaskMissing
from academy.domain.curriculum.kinds import Supervision
from academy.domain.curriculum.schemes import Requirement, Scheme
from academy.domain.sentences import Sentence


@dataclass(frozen=True, slots=True)
class ModuleMissing(Sentence):
    """A module's quiz has not been passed."""

    template = "pass the quiz of the module '%(module_id)s'"
    module_id: str


@dataclass(frozen=True, slots=True)
class ExaminationMissing(Sentence):
    """The scheme's examination has not been passed."""

    template = "pass the examination of '%(scheme_id)s'"
    scheme_id: str


@dataclass(frozen=True, slots=True)
class EvidenceExpired(Sentence):
    """The term has passed since the last counted practical."""

    template = "the term ended on %(expired_on)s; it has to be assessed again"
    expired_on: date


@dataclass(frozen=True, slots=True)
class AssessedAgainMissing(Sentence):
    """Recertification asks for a practical that has not been assessed again."""

    template = (
        "for recertification %(needed)d competent in a row at '%(task_id)s'"
        " from %(since)s on; %(have)d so far"
    )
    task_id: str
    needed: int
    have: int
    since: date


@dataclass(frozen=True, slots=True)
class SupervisorsMissing(Sentence):
    """Too few different supervisors have assessed the practicals."""

    template = "practicals assessed by %(needed)d different supervisors; %(have)d so far"
    needed: int
    have: int


Missing = (
    ModuleMissing
    | TaskMissing
    | ExaminationMissing
    | EvidenceExpired
    | AssessedAgainMissing
    | SupervisorsMissing
)


@dataclass(frozen=True, slots=True)
class Standing:
    """What a person may do today under one scheme.

    ``missing`` is what the next level asks and the evidence does not show;
    ``next_level`` is None at the highest.  ``valid_until`` is the last day of
    the level's term, None where the level rests on no practical.
    """

    scheme_id: str
    level: Supervision
    next_level: Supervision | None
    missing: tuple[Missing, ...]
    valid_until: date | None


@dataclass(frozen=True, slots=True)
class _Met:
    missing: tuple[Missing, ...]
    valid_until: date | None


def standing(scheme: Scheme, evidence: Evidence, today: date) -> Standing:
    """Return what is true on one day.

    Levels build on one another: a level is reached when it and all below are
    met and its term has not passed.  The last day of the term still counts.
    """
    level, valid_until = Supervision.NOT_YET, None
    for requirement in sorted(scheme.requirements, key=lambda r: r.level.rank):
        met = _met(requirement, scheme, evidence, today)
        if met.missing:
            return Standing(scheme.id, level, requirement.level, met.missing, valid_until)
        level = requirement.level
        valid_until = _earlier(valid_until, met.valid_until)
    return Standing(scheme.id, level, None, (), valid_until)


def add_months(day: date, months: int) -> date:
    """Return the same day of a later month, or that month's last day."""
    months_from_zero = day.year * 12 + day.month - 1 + months
    year, month = divmod(months_from_zero, 12)
    last = calendar.monthrange(year, month + 1)[1]
    return date(year, month + 1, min(day.day, last))


def _met(requirement: Requirement, scheme: Scheme, evidence: Evidence, today: date) -> _Met:
    missing: list[Missing] = [
        ModuleMissing(module_id)
        for module_id in requirement.modules
        if module_id not in evidence.modules_passed
    ]
    if requirement.examination and scheme.id not in evidence.examinations:
        missing.append(ExaminationMissing(scheme.id))
    until: date | None = None
    for task_id, rule in requirement.evidence.items():
        decided = decide(rule, task_id, evidence.of_task(task_id))
        missing.extend(decided.missing)
        if not decided.competent or decided.last_on is None:
            continue
        ends = add_months(decided.last_on, scheme.term_months)
        if ends < today:
            missing.append(EvidenceExpired(ends))
        until = _earlier(until, ends)
    return _Met(tuple(missing), until)


def _earlier(one: date | None, other: date | None) -> date | None:
    return min((day for day in (one, other) if day is not None), default=None)


def titles_for(
    missing: Missing,
    modules: Mapping[str, str],
    tasks: Mapping[str, str],
    schemes: Mapping[str, str] = MappingProxyType({}),
) -> Missing:
    """Return the sentence with titles in the place of ids, for a person to read."""
    match missing:
        case ModuleMissing(module_id):
            return ModuleMissing(modules.get(module_id, module_id))
        case ExaminationMissing(scheme_id):
            return ExaminationMissing(schemes.get(scheme_id, scheme_id))
        case EvidenceExpired() | SupervisorsMissing():
            return missing
    return replace(missing, task_id=tasks.get(missing.task_id, missing.task_id))
