"""Five questions that keep what was learnt: one's own, and those before a talk or a return to work."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from typing import ClassVar
from uuid import UUID, uuid4

from flask import flash, redirect, request, url_for
from flask.typing import ResponseReturnValue

from academy.domain.assessment.frozen import result_from_frozen
from academy.domain.curriculum.course import Course
from academy.domain.people import Permission
from academy.services import refreshers
from academy.services.evidence import passed_something, who_passed_something
from academy.store.queries.people import members
from academy.store.queries.refreshers import HandedOut, newest_of_each
from academy.web.context import clock, course, db, unit_of_work
from academy.web.forms import kept_id
from academy.web.identity import requires, signed_in
from academy.web.language import day_text
from academy.web.language import gettext as _
from academy.web.pages import Page, render
from academy.web.quizzes.blueprint import bp
from academy.web.times import shop_day


@dataclass(frozen=True, slots=True)
class ToHandTo:
    """Somebody who has learnt something, where their last five questions are, and what to talk about."""

    person_id: UUID
    name: str
    sign: str
    says: str
    waiting: bool
    talk_about: tuple[str, ...]
    refresher_id: UUID


@dataclass(frozen=True, slots=True)
class RefresherPage(Page):
    """Five questions for oneself, and for whoever stands at the next talk."""

    template: ClassVar[str] = "quizzes/refresher.html"
    may_refresh: bool
    refresher_id: UUID
    hands_out: bool
    people: tuple[ToHandTo, ...]


@bp.get("/five-questions")
@requires(Permission.SIT_QUIZ)
def refresher() -> ResponseReturnValue:
    """Show where five questions are begun, and to whom a supervisor can hand them."""
    actor = signed_in()
    hands_out = actor.may(Permission.ASSESS_PRACTICAL)
    return render(
        RefresherPage(
            may_refresh=passed_something(db(), actor.shop_id, actor.person_id),
            refresher_id=uuid4(),
            hands_out=hands_out,
            people=_people(actor.shop_id, actor.person_id) if hands_out else (),
        )
    )


@bp.post("/five-questions")
@requires(Permission.SIT_QUIZ)
def open_refresher() -> ResponseReturnValue:
    """Open the five questions that are due most, or go on with those that are open."""
    good = course()
    with unit_of_work() as session:
        sitting_id = refreshers.open_refresher(
            session,
            actor=signed_in(),
            sitting_id=kept_id(request.form, "refresher_id"),
            course=good,
            now=clock(),
        )
    return redirect(url_for("quizzes.sitting", sitting_id=sitting_id), code=303)


@bp.post("/five-questions/<uuid:person_id>")
@requires(Permission.ASSESS_PRACTICAL)
def hand_out_refresher(person_id: UUID) -> ResponseReturnValue:
    """Open five questions for somebody before a talk or a return to work."""
    good = course()
    with unit_of_work() as session:
        refreshers.hand_out_refresher(
            session,
            actor=signed_in(),
            person_id=person_id,
            sitting_id=kept_id(request.form, "refresher_id"),
            course=good,
            now=clock(),
        )
    flash(_("Five questions wait on their first page."))
    return redirect(url_for("quizzes.refresher"), code=303)


def _people(shop_id: UUID, reader: UUID) -> tuple[ToHandTo, ...]:
    newest, good = newest_of_each(db(), shop_id), course()
    passed = who_passed_something(db(), shop_id)
    return tuple(
        _to_hand_to(member.person_id, member.name, newest.get(member.person_id), good)
        for member in members(db(), shop_id)
        if member.person_id != reader and member.person_id in passed
    )


def _to_hand_to(person_id: UUID, name: str, last: HandedOut | None, course: Course) -> ToHandTo:
    waiting = last is not None and last.submitted_at is None
    return ToHandTo(
        person_id=person_id,
        name=name,
        sign="waiting" if waiting else "saved" if last else "other",
        says=_says(last),
        waiting=waiting,
        talk_about=_missed(last, course),
        refresher_id=uuid4(),
    )


def _says(last: HandedOut | None) -> str:
    if last is None:
        return _("not asked yet")
    if last.submitted_at is None:
        return _("waiting since %(day)s", day=_day(last.opened_at))
    return _("handed in on %(day)s", day=_day(last.submitted_at))


def _missed(last: HandedOut | None, course: Course) -> tuple[str, ...]:
    """Return what was not right, in the course's words: the talk begins there."""
    if last is None or last.result is None:
        return ()
    texts = {o.id: o.text for module in course.modules for o in module.objectives}
    missed = (o for o in result_from_frozen(last.result).objectives if not o.met)
    return tuple(texts.get(objective.objective_id, objective.objective_id) for objective in missed)


def _day(at: datetime) -> str:
    return day_text(shop_day(at))
