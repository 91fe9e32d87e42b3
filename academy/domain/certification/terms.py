"""Days on which something ends by itself: a certificate, a term, a time without logged work."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import date, timedelta

from academy.domain.certification.known import Known, ends, tasks_up_to
from academy.domain.certification.readiness import missing_for_renewal
from academy.domain.certification.recertification import renewed_until, window_of
from academy.domain.certification.standing import add_months, standing
from academy.domain.curriculum.kinds import Supervision


def last_day(known: Known, level: Supervision) -> date:
    """Return the last day of a certificate decided today: a term from what it rests on.

    The term runs from the task that was assessed longest ago; without a
    practical it runs from today.  A renewed certificate rests on what
    recertification asks.
    """
    days = [known.today]
    asked = tuple(r for r in known.scheme.requirements if r.level.rank <= level.rank)
    shown = standing(replace(known.scheme, requirements=asked), known.evidence, known.today)
    if shown.level.rank >= level.rank:
        days.append(shown.valid_until or add_months(known.today, known.scheme.term_months))
    if known.latest and known.latest.level.rank >= level.rank and missing_for_renewal(known) == ():
        days.append(renewed_until(known.scheme, known.evidence, known.today))
    return max(days)


def last_worked(known: Known) -> date | None:
    """Return the last day of logged work; without any, that of the first decision."""
    tasks = tasks_up_to(known.scheme, Supervision.ALONE)
    assessed = [p.assessed_at.date() for p in known.evidence.practicals if p.task_id in tasks]
    logged = known.register.last_worked_on(known.scheme.id)
    worked = [*assessed, *([logged] if logged else [])]
    return max(worked, default=None) or min(
        (decision.decided_at.date() for decision in known.granted), default=None
    )


def works_until(known: Known) -> date | None:
    """Return the last day before a return check is due; None where none is asked."""
    last, months = last_worked(known), known.scheme.return_check_months
    return add_months(last, months) if last and months else None


def return_check_due(known: Known) -> bool:
    """Return whether too long a time has passed without logged work."""
    until = works_until(known)
    return until is not None and until < known.today


def turns(known: Known) -> Iterator[date]:
    """Yield every last day after which something may change by itself."""
    for practical in known.evidence.practicals:
        yield add_months(practical.assessed_at.date(), known.scheme.term_months)
    for decision in known.granted:
        yield ends(decision)
        if known.scheme.recertification:
            window = window_of(known.scheme.recertification, ends(decision))
            yield window.opens - timedelta(days=1)
            yield window.closes
    until = works_until(known)
    if until:
        yield until
