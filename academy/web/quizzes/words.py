"""Examinations in words: their conditions and where each one stands."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime
from typing import Any

from academy.domain.assessment.examination import Clock
from academy.store.queries.examinations import ExaminationRow
from academy.web.language import gettext as _
from academy.web.language import languages, ngettext
from academy.web.parts import Fact


def conditions_facts(conditions: Mapping[str, Any], questions: int) -> tuple[Fact, ...]:
    """Return what a candidate is told beforehand."""
    extra = conditions["extra_time_percent"]
    minutes = conditions["minutes"] * (100 + extra) // 100
    facts = [
        Fact(_("Questions"), str(questions)),
        Fact(_("Time"), ngettext("%(num)s minute", "%(num)s minutes", minutes)),
        Fact(_("Answered"), _("on paper") if conditions["on_paper"] else _("on this device")),
        Fact(_("Adjusted"), adjusted_words(conditions)),
    ]
    named = languages()
    if len(named) > 1:
        tag = conditions["language"]
        facts.append(Fact(_("Language"), _("%(name)s throughout", name=named.get(tag, tag))))
    return tuple(facts)


def points_words(points: int, full: int) -> str:
    """Return points of one percent of a question as questions, so that no rounding hides a miss."""
    return _("%(score).2f of %(full)d questions", score=points / 100, full=full // 100)


def may_withdraw(row: ExaminationRow, entered: bool) -> bool:
    """Return whether nobody has begun an examination yet."""
    waiting = row.begun_at is None and row.submitted_at is None
    return waiting and row.withdrawn_at is None and not entered


def adjusted_words(conditions: Mapping[str, Any]) -> str:
    """Return what is adjusted for this person, in words; never why."""
    extra = conditions["extra_time_percent"]
    said = [
        _("%(percent)d %% more time, included above", percent=extra) if extra else "",
        _("a reader") if conditions["reader"] else "",
        _("an interpreter") if conditions["interpreter"] else "",
        _("larger print") if conditions["larger_print"] else "",
    ]
    return ", ".join(word for word in said if word) or _("nothing")


def clock_of(row: ExaminationRow) -> Clock | None:
    """Return the clock of an examination that runs or ran."""
    if row.begun_at is None or row.conditions["on_paper"]:
        return None
    return Clock(row.begun_at, row.conditions["minutes"], row.conditions["extra_time_percent"])


def overdue(row: ExaminationRow, now: datetime) -> bool:
    """Return whether the time is up and nothing was handed in."""
    clock = clock_of(row)
    return row.submitted_at is None and clock is not None and clock.over(now)


def state_words(row: ExaminationRow, now: datetime) -> str:
    """Return where an examination stands."""
    if row.withdrawn_at is not None:
        return _("withdrawn before it was begun")
    if row.held:
        return _("near the pass mark: ask the three prepared questions")
    if row.submitted_at is not None:
        return _("passed") if row.passed else _("not passed yet")
    if overdue(row, now):
        return _("time is up and it was not handed in: close it")
    if row.begun_at is not None:
        return _("running")
    if row.conditions["on_paper"]:
        return _("on paper: two people enter it")
    return _("open, not begun")


def state_sign(row: ExaminationRow, now: datetime) -> str:
    """Return the mark beside the words."""
    if row.held or overdue(row, now):
        return "held"
    if row.withdrawn_at is not None:
        return "other"
    if row.submitted_at is not None:
        return "competent" if row.passed else "not-yet-competent"
    return "waiting"
