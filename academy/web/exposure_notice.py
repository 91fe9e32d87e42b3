"""What is said about a person's day before the next step at a machine, for any page that needs it."""

from __future__ import annotations

from dataclasses import dataclass
from math import floor, isinf
from uuid import UUID

from flask import url_for

from academy.domain.exposure.advice import Advice, Warned
from academy.domain.exposure.day import DayAtMachines, MachineVibration
from academy.domain.workshop.machines import VibrationSource
from academy.services.exposure import advice_before_step
from academy.web.context import clock, course, db
from academy.web.formats import sentence_text
from academy.web.identity import signed_in
from academy.web.language import gettext as _
from academy.web.language import ngettext

A_DAY_MIN = 24 * 60


@dataclass(frozen=True, slots=True)
class ExposureNotice:
    """The warning before a step: its mark and sentence, what is missing, and where the day is shown."""

    sign: str
    says: str
    left: str
    missing: tuple[str, ...]
    asked: bool
    url: str


def exposure_notice(person_id: UUID) -> ExposureNotice:
    """Return what to say before this person takes up a machine now."""
    day, says = advice_before_step(
        db(), shop_id=signed_in().shop_id, person_id=person_id, course=course(), now=clock()
    )
    return ExposureNotice(
        sign=day_sign(says, day.total),
        says=sentence_text(says.says),
        left=_left(says),
        missing=missing_sentences(day.total),
        asked=day.total.earlier_asked,
        url=url_for("logbook.day", person_id=person_id),
    )


def day_sign(says: Advice, total: DayAtMachines) -> str:
    """Return the mark of a day; clear is only a day of which nothing is missing."""
    if says.warned is Warned.CLEAR:
        return "within" if total.whole else "cannot-tell"
    return "exceeded" if says.warned in {Warned.ACTION, Warned.LIMIT} else "caution"


def missing_sentences(day: DayAtMachines) -> tuple[str, ...]:
    """Return what the day's total does not hold."""
    missing = []
    if not day.earlier_asked:
        missing.append(
            _("Recorded part only: nobody has said how long a tool was held before, or elsewhere.")
        )
    if day.seconds_without_value:
        minutes = -(-day.seconds_without_value // 60)
        missing.append(
            ngettext(
                "One minute was at a machine whose vibration value is not known; it has no points.",
                "%(num)s minutes were at machines whose vibration value is not known; they have no"
                " points.",
                minutes,
            )
        )
    if day.without_time:
        missing.append(
            ngettext(
                "One entry at a machine has no time with it.",
                "%(num)s entries at a machine have no time with them.",
                day.without_time,
            )
        )
    if day.uncertainty_missing:
        missing.append(
            _("A vibration value stands without its uncertainty; the range is too narrow.")
        )
    return tuple(missing)


def left_text(minutes: float) -> str:
    """Return how long is left, rounded down."""
    if minutes == 0:
        return _("none")
    if isinf(minutes) or minutes > A_DAY_MIN:
        return _("not reached in a day")
    hours, rest = divmod(floor(minutes), 60)
    return _("%(hours)d h %(minutes)d min", hours=hours, minutes=rest) if hours else f"{rest} min"


def vibration_text(value: MachineVibration | None, source: VibrationSource | None) -> str:
    """Return a machine's value with its uncertainty and where it comes from."""
    if value is None:
        return _("not known")
    says = f"{value.m_s2:g} m/s²"
    if value.uncertainty_m_s2 is not None:
        says = f"{value.m_s2:g} ± {value.uncertainty_m_s2:g} m/s²"
    return f"{says}, {_(source.value)}" if source else says


def _left(says: Advice) -> str:
    if says.minutes_to_action is None or says.minutes_to_limit is None:
        return ""
    return _(
        "Left with the machine that shakes most here: to the action value %(action)s, to the limit"
        " value %(limit)s.",
        action=left_text(says.minutes_to_action),
        limit=left_text(says.minutes_to_limit),
    )
