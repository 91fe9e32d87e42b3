"""A person's day at machines: what adds up, what is missing, how long is left."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta
from uuid import UUID, uuid4

from flask import abort, flash, redirect, request, url_for
from flask.typing import ResponseReturnValue

from academy.domain.exposure.advice import Advice, Warned, advice
from academy.domain.exposure.day import MachineVibration, Points, minutes_left
from academy.domain.exposure.vibration import a8_from_points
from academy.domain.people import Permission
from academy.domain.sentences import TradeError
from academy.services import tool_time
from academy.services.actor import Actor
from academy.services.exposure import DayLine, PersonsDay, persons_day, vibration_of
from academy.services.tool_time import NewToolTime
from academy.store.queries.exposure import ToolTimeRow
from academy.store.queries.exposure import tool_time as tool_time_row
from academy.store.queries.tools import MachineRow, machines
from academy.web.context import clock, course, db, unit_of_work
from academy.web.exposure_notice import day_sign, left_text, missing_sentences, vibration_text
from academy.web.formats import sentence_text
from academy.web.forms import FormRefused, kept_id, refused
from academy.web.identity import requires, signed_in
from academy.web.language import day_text
from academy.web.language import gettext as _
from academy.web.logbook.blueprint import bp
from academy.web.logbook.entries import machine_choices
from academy.web.logbook.forms import TimeForm
from academy.web.logbook.overview import may_enter, person_for
from academy.web.logbook.pages import DayPage, TimeCorrectionPage
from academy.web.pages import Page, render
from academy.web.parts import Cell, Column, Fact, Filled, Link, Listed, ReadingsTable, Row
from academy.web.times import today

FIRST_DAY = date(2000, 1, 1)  # nothing was recorded here before


@bp.get("/logbooks/<uuid:person_id>/day")
@requires(Permission.READ_OWN_LOGBOOK)
def day(person_id: UUID) -> ResponseReturnValue:
    """Show a person's day at machines, today unless another is asked for."""
    return render(_day_page(person_id, _day_asked(), Filled(), uuid4()))


@bp.post("/logbooks/<uuid:person_id>/day")
@requires(Permission.WRITE_LOGBOOK)
def state_time(person_id: UUID) -> ResponseReturnValue:
    """Keep what somebody says of their time with another tool."""
    person_for(signed_in(), person_id)
    asked = _day_asked()
    try:
        new = _new(TimeForm.of(request.form), person_id, asked)
        with unit_of_work() as session:
            tool_time.state_tool_time(session, actor=signed_in(), new=new, now=clock())
    except FormRefused as fault:
        time_id = kept_id(request.form, "time_id")
        return render(_day_page(person_id, asked, fault.filled, time_id), 422)
    flash(_("It counts for that day."))
    return redirect(url_for("logbook.day", person_id=person_id, day=asked), code=303)


@bp.get("/tool-times/<uuid:tool_time_id>/correction")
@requires(Permission.WRITE_LOGBOOK)
def time_correction(tool_time_id: UUID) -> ResponseReturnValue:
    """Show a stated time as a form, to put it right."""
    found = _time_for(signed_in(), tool_time_id)
    typed = {
        "minutes": f"{found.seconds / 60:g}",
        "machine_id": str(found.machine_id or ""),
        "says": found.says,
        "vibration_m_s2": "" if found.machine_id else _typed(found.vibration_m_s2),
        "vibration_uncertainty_m_s2": ""
        if found.machine_id
        else _typed(found.vibration_uncertainty_m_s2),
    }
    return render(_correction_page(found, Filled(typed), uuid4()))


@bp.post("/tool-times/<uuid:tool_time_id>/correction")
@requires(Permission.WRITE_LOGBOOK)
def correct_time(tool_time_id: UUID) -> ResponseReturnValue:
    """Put a newer time in the place of one that was stated."""
    found, time_id = _time_for(signed_in(), tool_time_id), kept_id(request.form, "time_id")
    try:
        form = TimeForm.of(request.form)
        with unit_of_work() as session:
            tool_time.correct_tool_time(
                session,
                actor=signed_in(),
                corrected_id=tool_time_id,
                new=_new(form, found.person_id, found.worked_on, found.entry_id),
                reason=form.reason,
                now=clock(),
            )
    except FormRefused as fault:
        return render(_correction_page(found, fault.filled, time_id), 422)
    except TradeError as refusal:
        return render(_correction_page(found, refused(request.form, refusal), time_id), 422)
    flash(_("The newer time stands in the place of the old one; both stay on record."))
    return redirect(
        url_for("logbook.day", person_id=found.person_id, day=found.worked_on), code=303
    )


def _day_asked() -> date:
    """Return the day in the address, today without one; 404 for what is no day or to come."""
    try:
        asked = date.fromisoformat(request.args.get("day", "") or today().isoformat())
    except ValueError:
        abort(404)
    if not FIRST_DAY <= asked <= today():
        abort(404)
    return asked


def _time_for(actor: Actor, tool_time_id: UUID) -> ToolTimeRow:
    found = tool_time_row(db(), actor.shop_id, tool_time_id)
    if found is None:
        abort(404)
    person_for(actor, found.person_id)
    return found


def _new(form: TimeForm, person_id: UUID, on: date, entry_id: UUID | None = None) -> NewToolTime:
    return NewToolTime(
        form.time_id,
        person_id,
        on,
        int(form.minutes * 60),
        form.says,
        entry_id,
        form.machine_id,
        form.vibration_m_s2,
        form.vibration_uncertainty_m_s2,
    )


def _day_page(person_id: UUID, on: date, form: Filled, time_id: UUID) -> Page:
    actor = signed_in()
    person = person_for(actor, person_id)
    found = persons_day(db(), shop_id=actor.shop_id, person_id=person_id, day=on, course=course())
    says = advice(found.total, found.values, None)
    known = [machine for machine in found.machines if machine.vibration_m_s2]
    may_state = may_enter(actor, person_id)
    return DayPage(
        title=_("Day at machines: %(name)s, %(day)s", name=person.name, day=day_text(on)),
        person_id=person_id,
        day=on.isoformat(),
        sign=day_sign(says, found.total),
        verdict=_verdict(says, found),
        missing=missing_sentences(found.total),
        facts=_facts(found),
        basis=sentence_text(found.values.basis),
        lines=_lines_table(found.lines),
        left=_left_table(found, known) if on == today() else None,
        corrections=tuple(
            Listed(
                _line_words(line),
                url_for("logbook.time_correction", tool_time_id=line.stated.id),
            )
            for line in found.lines
            if line.stated is not None
        )
        if may_state
        else (),
        may_state=may_state,
        asked=found.total.earlier_asked,
        form=form,
        time_id=time_id,
        none_id=uuid4(),
        machines=machine_choices(found.machines),
        days=_days(person_id, on),
    )


def _verdict(says: Advice, found: PersonsDay) -> str:
    if says.warned is Warned.CLEAR and not found.total.whole:
        return _("Recorded part only: below the action value so far, and more may be missing")
    return sentence_text(says.says)


def _facts(found: PersonsDay) -> tuple[Fact, ...]:
    points, values = found.total.points, found.values
    return (
        Fact(_("Points"), _range(points)),
        Fact(_("A(8)"), _a8_range(points)),
        Fact(_("Time on running machines"), _minutes(found.total.seconds)),
        Fact(_("Action value"), _value(values.action_m_s2, values.action_points)),
        Fact(_("Limit value"), _value(values.limit_m_s2, values.limit_points)),
    )


def _range(points: Points) -> str:
    if round(points.lower) == round(points.upper):
        return f"{points.stated:.0f}"
    return _(
        "%(stated).0f, between %(lower).0f and %(upper).0f",
        stated=points.stated,
        lower=points.lower,
        upper=points.upper,
    )


def _a8_range(points: Points) -> str:
    if points.lower == points.upper:
        return f"{a8_from_points(points.stated):.1f} m/s²"
    return _(
        "%(stated).1f m/s², between %(lower).1f and %(upper).1f",
        stated=a8_from_points(points.stated),
        lower=a8_from_points(points.lower),
        upper=a8_from_points(points.upper),
    )


def _value(m_s2: float, points: float) -> str:
    return _("%(a8)g m/s² or %(points).0f points", a8=m_s2, points=points)


def _minutes(seconds: int) -> str:
    return _("%(minutes)d min %(seconds)d s", minutes=seconds // 60, seconds=seconds % 60)


def _lines_table(lines: Sequence[DayLine]) -> ReadingsTable | None:
    if not lines:
        return None
    columns = (
        Column(_("Machine")),
        Column(_("Time")),
        Column(_("Vibration"), words=True),
        Column(_("Known from"), words=True),
    )
    rows = tuple(
        Row(
            line.says or _("a tool"),
            (
                Cell(_minutes(line.time.seconds)),
                Cell(vibration_text(line.time.vibration, line.source)),
                Cell(_known_from(line)),
            ),
        )
        for line in lines
    )
    return ReadingsTable(_("What adds up"), columns, rows)


def _known_from(line: DayLine) -> str:
    if line.stated is None:
        return _("practical, taken over: counts for both") if line.taken_over else _("practical")
    if line.stated.entry_id:
        return _("logbook, stated by %(name)s", name=line.stated.stated_by_name)
    return _("stated by %(name)s", name=line.stated.stated_by_name)


def _line_words(line: DayLine) -> str:
    return f"{line.says or _('none before')}, {_minutes(line.time.seconds)}"


def _left_table(found: PersonsDay, known: Sequence[MachineRow]) -> ReadingsTable | None:
    """Return how long each of the shop's machines may still run, counted cautiously."""
    if not known:
        return None
    columns = (
        Column(_("Machine")),
        Column(_("Vibration"), words=True),
        Column(_("To the action value"), words=True),
        Column(_("To the limit value"), words=True),
    )
    rows = tuple(
        _left_row(found, machine, value) for machine in known if (value := vibration_of(machine))
    )
    caption = _("Left today, with the upper end of every value")
    return ReadingsTable(caption, columns, rows)


def _left_row(found: PersonsDay, machine: MachineRow, value: MachineVibration) -> Row:
    values = found.values
    return Row(
        machine.label,
        (
            Cell(vibration_text(value, machine.vibration_source)),
            Cell(left_text(minutes_left(found.total, value, values.action_points))),
            Cell(left_text(minutes_left(found.total, value, values.limit_points))),
        ),
    )


def _days(person_id: UUID, on: date) -> tuple[Link, ...]:
    """Return the day before, this one and the next, as far as there are days."""
    shown = [day for day in (on - timedelta(days=1), on, on + timedelta(days=1)) if day <= today()]
    return tuple(
        Link(
            day_text(one),
            url_for("logbook.day", person_id=person_id, day=one.isoformat()),
            one == on,
        )
        for one in shown
    )


def _typed(value: object) -> str:
    return "" if value is None else str(value)


def _correction_page(found: ToolTimeRow, form: Filled, time_id: UUID) -> Page:
    back = url_for("logbook.day", person_id=found.person_id, day=found.worked_on.isoformat())
    return TimeCorrectionPage(
        found.id,
        form,
        time_id,
        machine_choices(machines(db(), signed_in().shop_id)),
        Link(_("Back to the day"), back),
    )
