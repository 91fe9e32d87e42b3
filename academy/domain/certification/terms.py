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


def idle_since(known: Known) -> date | None:
    """Return the last day of logged work before too long a time without any; None where it is well.

    Once the time has passed, logged work alone does not make up for it: a
    return check or an assessed, competent practical does.
    """
    months = known.scheme.return_check_months
    days = _worked(known)
    if not months or not days:
        return None
    idle: date | None = None
    before = min(days)
    for day in (*sorted(days), known.today):
        if idle is None and add_months(before, months) < day:
            idle = before
        if days.get(day):
            idle = None
        before = day
    return idle


def works_until(known: Known) -> date | None:
    """Return the last day on which no return check is due yet; None where none is asked."""
    days = _worked(known)
    months = known.scheme.return_check_months
    return add_months(max(days), months) if days and months else None


def _worked(known: Known) -> dict[date, bool]:
    """Return the days of work, and whether somebody saw on that day that it is well done."""
    tasks = tasks_up_to(known.scheme, Supervision.ALONE)
    days = dict.fromkeys(known.register.worked_on.get(known.scheme.id, ()), False)
    days |= {
        day: days.get(day, False)
        for day in (p.assessed_at.date() for p in known.evidence.practicals if p.task_id in tasks)
    }
    seen = [
        p.assessed_at.date()
        for p in known.evidence.practicals
        if p.task_id in tasks and p.competent
    ]
    seen += known.register.checked_on(known.scheme.id)
    days |= dict.fromkeys(seen, True)
    return days or {decision.decided_at.date(): True for decision in known.granted[:1]}


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
