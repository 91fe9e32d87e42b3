"""The drills, each logged by one tap."""

from __future__ import annotations

from uuid import UUID, uuid4

from flask import flash, redirect, request, url_for
from flask.typing import ResponseReturnValue

from academy.domain.curriculum.tasks import Drill
from academy.domain.people import Permission
from academy.domain.practical.logbook import EntryKind
from academy.services import logbook as service
from academy.services.exposure import at_a_machine
from academy.services.logbook import NewEntry
from academy.store.queries.logbook import entries_of
from academy.web.context import clock, course, db, unit_of_work
from academy.web.identity import requires, signed_in
from academy.web.language import day_text
from academy.web.language import gettext as _
from academy.web.logbook.blueprint import bp
from academy.web.logbook.forms import DrillForm
from academy.web.logbook.overview import person_for
from academy.web.logbook.pages import DrillLine, DrillsPage
from academy.web.pages import render
from academy.web.parts import Link
from academy.web.times import shop_day


@bp.get("/logbooks/<uuid:person_id>/drills")
@requires(Permission.WRITE_LOGBOOK)
def drills(person_id: UUID) -> ResponseReturnValue:
    """Show the drills with the day each was last done."""
    actor = signed_in()
    person, last = person_for(actor, person_id), _last_done(actor.shop_id, person_id)
    own = person_id == actor.person_id
    return render(
        DrillsPage(
            title=_("Log a drill") if own else _("Log a drill for %(name)s", name=person.name),
            person_id=person_id,
            drills=tuple(_line(drill, last.get(drill.id, "")) for drill in course().drills),
            back=Link(_("Back to the logbook"), url_for("logbook.of_person", person_id=person_id)),
        )
    )


@bp.post("/logbooks/<uuid:person_id>/drills")
@requires(Permission.WRITE_LOGBOOK)
def log_drill(person_id: UUID) -> ResponseReturnValue:
    """Log a drill as done today; one at a machine goes on to ask how long it ran."""
    person_for(signed_in(), person_id)
    form, now = DrillForm.of(request.form), clock()
    with unit_of_work() as session:
        service.write_entry(
            session,
            actor=signed_in(),
            new=NewEntry(form.entry_id, person_id, form.drill_id, None, shop_day(now)),
            course=course(),
            now=now,
        )
    if form.drill_id in at_a_machine(course()):
        flash(_("The drill is logged. How long did the machine run?"))
        return redirect(url_for("logbook.entry", entry_id=form.entry_id), code=303)
    flash(_("The drill is logged."))
    return redirect(url_for("logbook.drills", person_id=person_id), code=303)


def _last_done(shop_id: UUID, person_id: UUID) -> dict[str, str]:
    """Return the day each drill was last done; entries come newest first."""
    days: dict[str, str] = {}
    for row in entries_of(db(), shop_id, person_id):
        if row.kind is EntryKind.DRILL and row.counts:
            days.setdefault(row.subject_id, day_text(row.worked_on))
    return days


def _line(drill: Drill, last: str) -> DrillLine:
    return DrillLine(drill.id, drill.title, drill.minutes, last, drill.body_html, uuid4())
