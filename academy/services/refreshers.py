"""Refreshers: five questions that keep what was learnt, asked when scored answers say so."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from uuid import UUID

from sqlalchemy.orm import Session

from academy.domain.assessment.drawing import draw_in_turn
from academy.domain.assessment.forms import Form
from academy.domain.assessment.least_seen import Chooser, Seen
from academy.domain.assessment.progress import Purpose
from academy.domain.assessment.refresher import (
    FIVE,
    Refresher,
    ScoredAnswer,
    is_slow,
    most_due,
    refresher,
)
from academy.domain.curriculum.course import Course, Module
from academy.domain.people import Permission
from academy.domain.sentences import TradeError
from academy.services.actor import Actor, NotFound
from academy.services.evidence import progress_of
from academy.services.sitting_rows import (
    NewSitting,
    drawable,
    drawn,
    resumed,
    take_turns,
    write_sitting,
)
from academy.store.queries.people import member
from academy.store.queries.refreshers import scored_answers, seconds_of_right_answers
from academy.store.queries.study import last_form, times_seen

DAYS_PER_MONTH = 30


@dataclass(eq=False)
class NothingToRefresh(TradeError):
    """There is no passed module yet."""

    template = "There is nothing to refresh before the first module is passed"


def open_refresher(
    session: Session, *, actor: Actor, sitting_id: UUID, course: Course, now: datetime
) -> UUID:
    """Open five questions for oneself, or go on with those that are open."""
    actor.require(Permission.SIT_QUIZ)
    new = NewSitting(sitting_id, actor.shop_id, actor.person_id, Purpose.REFRESHER)
    return _open(session, new, course, now)


def hand_out_refresher(
    session: Session,
    *,
    actor: Actor,
    person_id: UUID,
    sitting_id: UUID,
    course: Course,
    now: datetime,
) -> UUID:
    """Open five questions for somebody of the shop, before a talk or a return to work.

    Raises
    ------
    NotFound, NothingToRefresh
        Nothing is opened.
    """
    actor.require(Permission.ASSESS_PRACTICAL)
    if member(session, actor.shop_id, person_id) is None:
        raise NotFound()
    by = actor.person_id
    new = NewSitting(sitting_id, actor.shop_id, person_id, Purpose.REFRESHER, opened_by=by)
    return _open(session, new, course, now)


def refreshers_of(
    session: Session, shop_id: UUID, person_id: UUID, course: Course
) -> tuple[Refresher, ...]:
    """Return when each objective of the modules a person has passed is asked again."""
    progress = progress_of(session, shop_id, person_id)
    passed = [m for m in course.modules if m.id in progress and progress[m.id].passed_at]
    usual = seconds_of_right_answers(session, shop_id)
    answers: dict[str, list[ScoredAnswer]] = defaultdict(list)
    objective_of = {q.id: q.objective_id for module in passed for q in module.questions}
    for row in scored_answers(session, shop_id, person_id):
        if row.question_id in objective_of:
            slow = row.marks == 100 and is_slow(row.seconds, usual.get(row.question_id, ()))
            answers[objective_of[row.question_id]].append(ScoredAnswer(row.at, row.marks, slow))
    term_days = {o.id: _term_days(course, module) for module in passed for o in module.objectives}
    found = (refresher(name, given, term_days[name]) for name, given in answers.items())
    return tuple(one for one in found if one is not None)


def _term_days(course: Course, module: Module) -> int:
    """Return the shortest term of the certificates that rest on a module."""
    terms = [scheme.term_months for scheme in course.schemes if module.id in scheme.modules]
    return min(terms, default=12) * DAYS_PER_MONTH


def _open(session: Session, new: NewSitting, course: Course, now: datetime) -> UUID:
    take_turns(session, new.shop_id, new.person_id)
    known = resumed(session, new)
    if known is not None:
        return known
    due = most_due(refreshers_of(session, new.shop_id, new.person_id, course), now)
    modules = drawable(session, new.shop_id, course.modules)
    seen = Seen(
        times_seen(session, new.shop_id, new.person_id),
        last_form(session, new.shop_id, new.person_id, {Purpose.REFRESHER}),
    )
    must_know = [o.id for module in course.modules for o in module.must_know]
    form = drawn(must_know, lambda chance: _form(modules, due, seen, chance))
    if not form.form.questions:
        raise NothingToRefresh()
    write_sitting(session, new, form, now)
    return new.id


def _form(modules: Sequence[Module], due: Sequence[Refresher], seen: Seen, chance: Chooser) -> Form:
    bank = [question for module in modules for question in module.questions]
    return draw_in_turn(bank, [one.objective_id for one in due], FIVE, chance, seen)
