"""Entering practice work, confirming it, putting it right."""

from __future__ import annotations

from collections.abc import Sequence
from uuid import UUID, uuid4

from flask import abort, flash, redirect, request, url_for
from flask.typing import ResponseReturnValue
from sqlalchemy.orm import Session

from academy.domain.people import Permission
from academy.domain.sentences import TradeError
from academy.services import logbook as service
from academy.services import tool_time
from academy.services.actor import Actor
from academy.services.logbook import NewEntry
from academy.services.tool_time import NewToolTime
from academy.store.queries.exposure import tool_times
from academy.store.queries.logbook import EntryRow
from academy.store.queries.logbook import entry as entry_row
from academy.store.queries.tools import MachineRow, machines
from academy.web.context import clock, course, db, unit_of_work
from academy.web.forms import FormRefused, kept_id, refused
from academy.web.identity import requires, signed_in
from academy.web.language import day_text
from academy.web.language import gettext as _
from academy.web.logbook.blueprint import bp
from academy.web.logbook.forms import EntryForm, TakeBackForm, TimeForm
from academy.web.logbook.overview import (
    entry_state,
    may_enter,
    person_for,
    subject_title,
    subject_titles,
)
from academy.web.logbook.pages import EntryFormPage, EntryPage
from academy.web.logbook.words import stages
from academy.web.pages import Page, render
from academy.web.parts import Choosable, Fact, Filled, Link, Listed
from academy.web.times import today


@bp.get("/logbooks/<uuid:person_id>/entries/new")
@requires(Permission.WRITE_LOGBOOK)
def new_entry(person_id: UUID) -> ResponseReturnValue:
    """Show the form for practice work."""
    person_for(signed_in(), person_id)
    return render(_form_page(person_id, Filled({"worked_on": today().isoformat()}), uuid4()))


@bp.post("/logbooks/<uuid:person_id>/entries")
@requires(Permission.WRITE_LOGBOOK)
def write_entry(person_id: UUID) -> ResponseReturnValue:
    """Enter practice work, with the time at its machine where one was given."""
    person_for(signed_in(), person_id)
    entry_id = kept_id(request.form, "entry_id")
    try:
        form = EntryForm.of(request.form)
        with unit_of_work() as session:
            service.write_entry(
                session, actor=signed_in(), new=_new(form, person_id), course=course(), now=clock()
            )
            _state_time(session, form, person_id)
    except FormRefused as fault:
        return render(_form_page(person_id, fault.filled, entry_id), 422)
    except TradeError as refusal:
        return render(_form_page(person_id, refused(request.form, refusal), entry_id), 422)
    flash(_("The entry is in the logbook."))
    return redirect(url_for("logbook.of_person", person_id=person_id), code=303)


@bp.get("/logbook-entries/<uuid:entry_id>")
@requires(Permission.READ_OWN_LOGBOOK)
def entry(entry_id: UUID) -> ResponseReturnValue:
    """Show one entry."""
    return render(_entry_page(entry_for(signed_in(), entry_id)))


@bp.post("/logbook-entries/<uuid:entry_id>/confirm")
@requires(Permission.CONFIRM_LOGBOOK)
def confirm(entry_id: UUID) -> ResponseReturnValue:
    """Confirm somebody else's entry."""
    entry_for(signed_in(), entry_id)
    with unit_of_work() as session:
        service.confirm_entry(session, actor=signed_in(), entry_id=entry_id, now=clock())
    flash(_("Confirmed."))
    return redirect(url_for("logbook.entry", entry_id=entry_id), code=303)


@bp.post("/logbook-entries/<uuid:entry_id>/times")
@requires(Permission.WRITE_LOGBOOK)
def add_time(entry_id: UUID) -> ResponseReturnValue:
    """Keep how long the machine ran in this piece of work."""
    found = entry_for(signed_in(), entry_id)
    try:
        form = TimeForm.of(request.form)
        new = NewToolTime(
            form.time_id,
            found.person_id,
            found.worked_on,
            int(form.minutes * 60),
            form.says,
            entry_id,
            form.machine_id,
        )
        with unit_of_work() as session:
            tool_time.state_tool_time(session, actor=signed_in(), new=new, now=clock())
    except FormRefused as fault:
        return render(_entry_page(found, time_form=fault.filled), 422)
    flash(_("The time is added to that day."))
    return redirect(url_for("logbook.day", person_id=found.person_id, day=found.worked_on), 303)


@bp.get("/logbook-entries/<uuid:entry_id>/correction")
@requires(Permission.WRITE_LOGBOOK)
def correction(entry_id: UUID) -> ResponseReturnValue:
    """Show an entry as a form, to put it right."""
    found = entry_for(signed_in(), entry_id)
    typed = {
        "task_id": found.subject_id,
        "stage": found.stage.value if found.stage else "",
        "worked_on": found.worked_on.isoformat(),
        "worked_at": found.worked_at,
        "note": found.note,
    }
    return render(_form_page(found.person_id, Filled(typed), uuid4(), found))


@bp.post("/logbook-entries/<uuid:entry_id>/correction")
@requires(Permission.WRITE_LOGBOOK)
def correct(entry_id: UUID) -> ResponseReturnValue:
    """Put a newer entry in the place of this one."""
    found, new_id = entry_for(signed_in(), entry_id), kept_id(request.form, "entry_id")
    try:
        form = EntryForm.of(request.form)
        with unit_of_work() as session:
            service.correct_entry(
                session,
                actor=signed_in(),
                corrected_id=entry_id,
                new=_new(form, found.person_id),
                new_id=form.entry_id,
                reason=form.reason,
                course=course(),
                now=clock(),
            )
    except FormRefused as fault:
        return render(_form_page(found.person_id, fault.filled, new_id, found), 422)
    except TradeError as refusal:
        filled = refused(request.form, refusal)
        return render(_form_page(found.person_id, filled, new_id, found), 422)
    flash(_("The newer entry stands in the place of the old one; both stay on record."))
    return redirect(url_for("logbook.entry", entry_id=new_id), code=303)


@bp.post("/logbook-entries/<uuid:entry_id>/take-back")
@requires(Permission.WRITE_LOGBOOK)
def take_back(entry_id: UUID) -> ResponseReturnValue:
    """Take an entry back, with a reason; it stays on record."""
    found = entry_for(signed_in(), entry_id)
    try:
        form = TakeBackForm.of(request.form)
        with unit_of_work() as session:
            service.correct_entry(
                session,
                actor=signed_in(),
                corrected_id=entry_id,
                new=None,
                new_id=form.new_id,
                reason=form.reason,
                course=course(),
                now=clock(),
            )
    except FormRefused as fault:
        return render(_entry_page(found, take_back_form=fault.filled), 422)
    flash(_("Taken back. The entry stays on record and counts for nothing."))
    return redirect(url_for("logbook.of_person", person_id=found.person_id), code=303)


def entry_for(actor: Actor, entry_id: UUID) -> EntryRow:
    """Return an entry this reader may see; missing and not yours are both 404."""
    found = entry_row(db(), actor.shop_id, entry_id)
    if found is None:
        abort(404)
    person_for(actor, found.person_id)
    return found


def machine_choices(known: Sequence[MachineRow]) -> tuple[Choosable, ...]:
    """Return the shop's machines to choose from."""
    return tuple(Choosable(str(machine.id), machine.label) for machine in known)


def _new(form: EntryForm, person_id: UUID) -> NewEntry:
    return NewEntry(
        form.entry_id,
        person_id,
        form.task_id,
        form.stage,
        form.worked_on,
        form.worked_at,
        form.note,
    )


def _state_time(session: Session, form: EntryForm, person_id: UUID) -> None:
    """Keep the time under the entry's own id, so that the form sent twice adds it once."""
    if form.minutes:
        new = NewToolTime(
            form.entry_id,
            person_id,
            form.worked_on,
            int(form.minutes * 60),
            "",
            form.entry_id,
            form.machine_id,
        )
        session.flush()
        tool_time.state_tool_time(session, actor=signed_in(), new=new, now=clock())


def _form_page(
    person_id: UUID, form: Filled, entry_id: UUID, corrected: EntryRow | None = None
) -> Page:
    actor = signed_in()
    name = person_for(actor, person_id).name
    own = person_id == actor.person_id
    if corrected:
        title, back = (
            _("Put an entry right"),
            url_for("logbook.entry", entry_id=corrected.id),
        )
    else:
        title = _("Enter practice work") if own else _("Practice work of %(name)s", name=name)
        back = url_for("logbook.of_person", person_id=person_id)
    return EntryFormPage(
        title=title,
        action=url_for("logbook.correct", entry_id=corrected.id)
        if corrected
        else url_for("logbook.write_entry", person_id=person_id),
        form=form,
        entry_id=entry_id,
        tasks=tuple(Choosable(task.id, task.title) for task in course().tasks),
        stages=stages(),
        machines=machine_choices(machines(db(), actor.shop_id)),
        correcting=corrected is not None,
        back=Link(_("Back without saving"), back),
    )


def _entry_page(
    row: EntryRow, time_form: Filled | None = None, take_back_form: Filled | None = None
) -> Page:
    actor = signed_in()
    sign, state = entry_state(row)
    own = row.person_id == actor.person_id
    may_change = row.counts and may_enter(actor, row.person_id)
    stated = tool_times(db(), actor.shop_id, row.person_id, row.worked_on)
    return EntryPage(
        entry_id=row.id,
        title=subject_title(row, subject_titles(course())),
        sign=sign,
        state=state,
        facts=_facts(row),
        note=row.note,
        body_html=next((d.body_html for d in course().drills if d.id == row.subject_id), ""),
        times=tuple(
            Listed(
                _(
                    "%(machine)s, %(minutes)g min",
                    machine=time.says or _("a machine"),
                    minutes=time.seconds / 60,
                ),
                url_for("logbook.time_correction", tool_time_id=time.id),
            )
            for time in stated
            if time.entry_id == row.id
        ),
        may_confirm=row.counts
        and row.stage is not None
        and row.confirmed_at is None
        and not own
        and actor.may(Permission.CONFIRM_LOGBOOK),
        may_change=may_change,
        correction_url=url_for("logbook.correction", entry_id=row.id)
        if may_change and row.stage
        else "",
        time_form=time_form or Filled(),
        time_id=uuid4(),
        machines=machine_choices(machines(db(), actor.shop_id)),
        take_back_form=take_back_form or Filled(),
        new_id=uuid4(),
        back=Link(_("Back to the logbook"), url_for("logbook.of_person", person_id=row.person_id)),
    )


def _facts(row: EntryRow) -> tuple[Fact, ...]:
    facts = [
        Fact(_("Person"), row.person_name),
        Fact(_("Day"), day_text(row.worked_on)),
        Fact(_("On what"), row.worked_at),
        Fact(_("Entered by"), row.entered_by_name),
    ]
    if row.reason:
        facts.append(Fact(_("Why it was corrected"), row.reason))
    return tuple(fact for fact in facts if fact.value)
