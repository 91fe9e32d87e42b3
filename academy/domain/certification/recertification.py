"""When a certificate is due again, and what is still missing for it."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from academy.domain.certification.evidence import Evidence
from academy.domain.certification.register import Decision
from academy.domain.certification.standing import (
    AssessedAgainMissing,
    ExaminationMissing,
    Missing,
    add_months,
)
from academy.domain.curriculum.schemes import RecertificationRule, Scheme


@dataclass(frozen=True, slots=True)
class Window:
    """The days in which a certificate can be renewed; both ends belong to it."""

    opens: date
    closes: date

    def holds(self, day: date) -> bool:
        """Return whether a day lies in it."""
        return self.opens <= day <= self.closes


def window_of(rule: RecertificationRule, last_day: date) -> Window:
    """Return the days round the last day of a certificate in which it is renewed."""
    return Window(
        add_months(last_day, -rule.window_months), add_months(last_day, rule.window_months)
    )


def missing_to_renew(scheme: Scheme, decision: Decision, evidence: Evidence) -> tuple[Missing, ...]:
    """Return what recertification still asks; nothing left means that it can be decided."""
    rule = scheme.recertification
    if rule is None or decision.valid_until is None:
        return ()
    opens = window_of(rule, decision.valid_until).opens
    missing: list[Missing] = []
    for task_id, needed in rule.practicals.items():
        have = sum(p.assessed_at.date() >= opens for p in evidence.run_of(task_id))
        if have < needed:
            missing.append(AssessedAgainMissing(task_id, needed, have, opens))
    if rule.examination and evidence.examinations.get(scheme.id, date.min) < opens:
        missing.append(ExaminationMissing(scheme.id))
    return tuple(missing)


def renewed_until(scheme: Scheme, evidence: Evidence, today: date) -> date:
    """Return the last day of a renewed certificate: the term from what was assessed again."""
    tasks = scheme.recertification.practicals if scheme.recertification else {}
    assessed = [run[-1].assessed_at.date() for task in tasks if (run := evidence.run_of(task))]
    return add_months(min(assessed, default=today), scheme.term_months)
