"""A person's logbook, and the logbooks of a shop."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date
from uuid import UUID

from flask import abort, redirect, url_for
from flask.typing import ResponseReturnValue

from academy.domain.curriculum.course import Course
from academy.domain.people import Permission, Role
from academy.domain.practical.logbook import (
    PracticeStage,
    Practised,
    TaskPractice,
    practice_by_task,
)
from academy.domain.practical.talks import ChangeState
from academy.services.actor import Actor
from academy.services.change_follow_up import changes_of
from academy.store.queries.logbook import EntryRow, entries_of, waiting_entries
from academy.store.queries.people import Member, member, members
from academy.store.queries.practicals import PracticalSummary, practicals
from academy.web.context import course, db
from academy.web.identity import requires, signed_in
from academy.web.language import day_text
from academy.web.language import gettext as _
from academy.web.logbook.blueprint import bp
from academy.web.logbook.pages import LogbookLine, LogbookPage, LogbooksPage
from academy.web.logbook.words import answer_word, stage_word
from academy.web.pages import render
from academy.web.parts import Cell, Column, Link, Listed, ReadingsTable, Row
from academy.web.times import shop_day


@bp.get("/logbook")
@requires(Permission.READ_OWN_LOGBOOK)
def own() -> ResponseReturnValue:
    """Show one's own logbook; whoever is not in training sees the shop's logbooks."""
    actor = signed_in()
    if Role.TRAINEE not in actor.roles and actor.may(Permission.READ_LOGBOOKS):
        return redirect(url_for("logbook.of_shop"), code=303)
    return render(_logbook_page(actor, person_for(actor, actor.person_id)))


@bp.get("/logbooks")
@requires(Permission.READ_LOGBOOKS)
def of_shop() -> ResponseReturnValue:
    """Show what waits for a supervisor, and everybody in training."""
    actor = signed_in()
    everybody, titles = members(db(), actor.shop_id), subject_titles(course())
    return render(
        LogbooksPage(
            waiting=tuple(_waiting(row, titles) for row in waiting_entries(db(), actor.shop_id)),
            people=tuple(
                Listed(person.name, url_for("logbook.of_person", person_id=person.person_id))
                for person in everybody
                if Role.TRAINEE in person.roles
            ),
            may_confirm=actor.may(Permission.CONFIRM_LOGBOOK),
        )
    )


@bp.get("/logbooks/<uuid:person_id>")
@requires(Permission.READ_OWN_LOGBOOK)
def of_person(person_id: UUID) -> ResponseReturnValue:
    """Show a person's logbook."""
    actor = signed_in()
    return render(_logbook_page(actor, person_for(actor, person_id)))


def person_for(actor: Actor, person_id: UUID) -> Member:
    """Return a person whose logbook this reader may see; missing and not yours are both 404."""
    found = member(db(), actor.shop_id, person_id)
    own = person_id == actor.person_id
    if found is None or not (own or actor.may(Permission.READ_LOGBOOKS)):
        abort(404)
    return found


def may_enter(actor: Actor, person_id: UUID) -> bool:
    """Return whether this reader enters in a person's logbook: their own, or any for a supervisor."""
    return person_id == actor.person_id or actor.may(Permission.CONFIRM_LOGBOOK)


def subject_titles(course: Course) -> dict[str, str]:
    """Return the titles of the tasks and drills by id."""
    return {work.id: work.title for work in course.tasks} | {d.id: d.title for d in course.drills}


def subject_title(row: EntryRow, titles: Mapping[str, str]) -> str:
    """Return the title of the task or drill of an entry."""
    return titles.get(row.subject_id, row.subject_id)


def entry_state(row: EntryRow) -> tuple[str, str]:
    """Return the mark and the words for where an entry stands."""
    if row.taken_back:
        return "withdrawn", _("taken back: %(reason)s", reason=row.reason)
    if row.replaced:
        return "other", _("a newer entry stands in its place")
    if row.stage is None:
        return "right", _("drill")
    if row.confirmed_by_name:
        words = _("%(stage)s, confirmed by %(name)s", name=row.confirmed_by_name,
                  stage=stage_word(row.stage))  # fmt: skip
        return "right", words
    return "waiting", _("%(stage)s, waits for a supervisor", stage=stage_word(row.stage))


def _logbook_page(actor: Actor, person: Member) -> LogbookPage:
    own = person.person_id == actor.person_id
    entries = entries_of(db(), actor.shop_id, person.person_id)
    worked = [
        summary
        for summary in practicals(db(), actor.shop_id, person.person_id)
        if summary.trainee_id == person.person_id
    ]
    return LogbookPage(
        title=_("Your logbook") if own else _("Logbook of %(name)s", name=person.name),
        stages=_stages_table(_practised(entries, worked), course()),
        to_change=tuple(
            _change_line(state) for state in changes_of(db(), actor.shop_id, person.person_id)[:5]
        ),
        lines=_lines(entries, worked, subject_titles(course())),
        actions=_actions(actor, person.person_id),
    )


def _actions(actor: Actor, person_id: UUID) -> tuple[Link, ...]:
    entering = (
        Link(_("Enter practice work"), url_for("logbook.new_entry", person_id=person_id)),
        Link(_("Log a drill"), url_for("logbook.drills", person_id=person_id)),
    )
    reading = (Link(_("Day at machines"), url_for("logbook.day", person_id=person_id)),)
    shop = (Link(_("Logbooks of the shop"), url_for("logbook.of_shop")),)
    return (
        (entering if may_enter(actor, person_id) else ())
        + reading
        + (shop if actor.may(Permission.READ_LOGBOOKS) else ())
    )


def _practised(entries: Sequence[EntryRow], worked: Sequence[PracticalSummary]) -> list[Practised]:
    """Return what counts: the entries that stand, and each closed practical as supervised."""
    entered = [
        Practised(row.subject_id, row.stage, row.worked_on, row.confirmed_at is not None)
        for row in entries
        if row.counts and row.stage is not None
    ]
    return entered + [
        Practised(
            summary.task_id,
            PracticeStage.SUPERVISED,
            shop_day(summary.opened_at),
            confirmed=True,
        )
        for summary in worked
        if summary.closed_at is not None
    ]


def _stages_table(practised: Sequence[Practised], course: Course) -> ReadingsTable | None:
    lines = practice_by_task(practised)
    if not lines:
        return None
    columns = (
        Column(_("Practical task")),
        *(Column(stage_word(stage)) for stage in PracticeStage),
        Column(_("Waits")),
        Column(_("Last"), words=True),
    )
    rows = tuple(_stages_row(line, course) for line in lines)
    return ReadingsTable(_("How often at each stage, confirmed by a supervisor"), columns, rows)


def _stages_row(line: TaskPractice, course: Course) -> Row:
    task = course.task(line.task_id)
    counts = tuple(Cell(str(line.counts.get(stage, 0) or "–")) for stage in PracticeStage)
    waits = Cell(str(line.waiting or "–"))
    return Row(task.title if task else line.task_id, (*counts, waits, Cell(day_text(line.last_on))))


def _change_line(state: ChangeState) -> LogbookLine:
    url = url_for("practicals.practical", practical_id=state.asked.practical_id)
    if state.last is None:
        return LogbookLine(
            state.asked.change, url, "waiting", _("the next practical is looked at for it"), ""
        )
    says = _(
        "%(seen)s, said on %(day)s",
        seen=answer_word(state.last.seen),
        day=day_text(shop_day(state.last.said_at)),
    )
    return LogbookLine(
        state.asked.change, url, "waiting" if state.still_open else "right", says, ""
    )


def _lines(
    entries: Sequence[EntryRow],
    worked: Sequence[PracticalSummary],
    titles: Mapping[str, str],
) -> tuple[LogbookLine, ...]:
    """Return practicals, practice work and drills in one order, newest day first."""
    dated: list[tuple[date, LogbookLine]] = [
        (row.worked_on, _entry_line(row, titles)) for row in entries
    ]
    for summary in worked:
        day = shop_day(summary.opened_at)
        dated.append((day, _practical_line(summary, day)))
    newest_first = sorted(dated, key=lambda dated_line: dated_line[0], reverse=True)
    return tuple(line for _day, line in newest_first)


def _entry_line(row: EntryRow, titles: Mapping[str, str]) -> LogbookLine:
    sign, state = entry_state(row)
    day = day_text(row.worked_on)
    return LogbookLine(
        subject_title(row, titles),
        url_for("logbook.entry", entry_id=row.id),
        sign,
        state,
        f"{day}, {row.worked_at}" if row.worked_at else day,
        row.note if row.counts else "",
    )


def _practical_line(summary: PracticalSummary, day: date) -> LogbookLine:
    return LogbookLine(
        summary.task_title,
        url_for("practicals.practical", practical_id=summary.id),
        "right" if summary.closed_at else "waiting",
        _("practical, %(outcome)s", outcome=_(summary.outcome))
        if summary.outcome
        else _("practical, still open"),
        _(
            "%(day)s, with %(supervisor)s, %(section)s",
            day=day_text(day),
            supervisor=summary.supervisor_name,
            section=summary.section_name,
        ),
    )


def _waiting(row: EntryRow, titles: Mapping[str, str]) -> Listed:
    return Listed(
        f"{row.person_name}: {subject_title(row, titles)}",
        url_for("logbook.entry", entry_id=row.id),
        f"{entry_state(row)[1]}, {day_text(row.worked_on)}",
        "waiting",
    )
