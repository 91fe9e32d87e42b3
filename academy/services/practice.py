"""Practice, which never counts, and refreshers, which keep what was learnt."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from uuid import UUID

from sqlalchemy.orm import Session

from academy.domain.assessment.forms import Form, laid_out
from academy.domain.assessment.least_seen import Chooser
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
from academy.domain.curriculum.questions import Question
from academy.domain.people import Permission
from academy.domain.sentences import TradeError
from academy.services.actor import Actor, NotFound
from academy.services.evidence import progress_of
from academy.services.open_forms import asked_now, refuse_result
from academy.services.sitting_rows import NewSitting, drawable, drawn, take_turns, write_sitting
from academy.store.queries.refreshers import scored_answers, seconds_of_right_answers
from academy.store.queries.study import sittings_of, times_seen
from academy.store.tables.study import Sitting


@dataclass(eq=False)
class NothingToRefresh(TradeError):
    """There is no passed module yet."""

    template = "There is nothing to refresh before the first module is passed"


@dataclass(eq=False)
class NothingToPractise(TradeError):
    """All that is left of the module is kept for its quiz."""

    template = "There is nothing to practise on in this module before its quiz was sat once"


def open_practice(
    session: Session, *, actor: Actor, sitting_id: UUID, module: Module, now: datetime
) -> UUID:
    """Open five questions of a module to practise on.

    Questions seen before come first.  An unseen question on something that
    must be known is kept back, so that a quiz can still ask it in other words.

    Raises
    ------
    HandInFirst, NothingToPractise
        It is not opened; nothing is written.
    """
    actor.require(Permission.SIT_QUIZ)
    take_turns(session, actor.shop_id, actor.person_id)
    refuse_result(session, actor, module.id, ())
    known = _resumed(session, actor, sitting_id, Purpose.PRACTICE, module.id)
    if known is not None:
        return known
    seen = times_seen(session, actor.shop_id, actor.person_id)
    asked = asked_now(session, actor).questions
    must_know = [objective.id for objective in module.must_know]
    [bank] = drawable(session, actor.shop_id, [module])
    open_to_all = [
        question
        for question in bank.questions
        if question.id not in asked
        and (question.id in seen or question.objective_id not in must_know)
    ]
    if not open_to_all:
        raise NothingToPractise()
    form = drawn(must_know, lambda chance: _practice_form(open_to_all, seen, chance))
    new = NewSitting(sitting_id, actor.shop_id, actor.person_id, Purpose.PRACTICE, module.id)
    write_sitting(session, new, form, now)
    return sitting_id


def open_refresher(
    session: Session, *, actor: Actor, sitting_id: UUID, course: Course, now: datetime
) -> UUID:
    """Open the five questions that are due most, over everything a person has passed."""
    actor.require(Permission.SIT_QUIZ)
    take_turns(session, actor.shop_id, actor.person_id)
    known = _resumed(session, actor, sitting_id, Purpose.REFRESHER, "")
    if known is not None:
        return known
    due = most_due(refreshers_of(session, actor=actor, course=course), now)
    if not due:
        raise NothingToRefresh()
    seen = times_seen(session, actor.shop_id, actor.person_id)
    modules = drawable(session, actor.shop_id, course.modules)
    bank = [question for module in modules for question in module.questions]
    must_know = [o.id for module in course.modules for o in module.must_know]
    form = drawn(must_know, lambda chance: _refresher_form(bank, due, seen, chance))
    new = NewSitting(sitting_id, actor.shop_id, actor.person_id, Purpose.REFRESHER)
    write_sitting(session, new, form, now)
    return sitting_id


def refreshers_of(session: Session, *, actor: Actor, course: Course) -> tuple[Refresher, ...]:
    """Return when each objective of the passed modules is asked again."""
    progress = progress_of(session, actor.shop_id, actor.person_id)
    passed = [m for m in course.modules if m.id in progress and progress[m.id].passed_at]
    objectives = {objective.id for module in passed for objective in module.objectives}
    usual = seconds_of_right_answers(session, actor.shop_id)
    answers: dict[str, list[ScoredAnswer]] = defaultdict(list)
    objective_of = {q.id: q.objective_id for module in passed for q in module.questions}
    for row in scored_answers(session, actor.shop_id, actor.person_id):
        objective = objective_of.get(row.question_id)
        if objective in objectives and objective is not None:
            slow = row.marks == 100 and is_slow(row.seconds, usual.get(row.question_id, ()))
            answers[objective].append(ScoredAnswer(row.at, row.marks, slow))
    term_days = min((scheme.term_months for scheme in course.schemes), default=12) * 30
    found = (refresher(name, given, term_days) for name, given in answers.items())
    return tuple(one for one in found if one is not None)


def _practice_form(bank: Sequence[Question], seen: dict[str, int], chance: Chooser) -> Form:
    ranked = sorted(((q.id not in seen, chance.random(), q) for q in bank), key=lambda row: row[:2])
    return Form(tuple(laid_out(question, chance) for _, _, question in ranked[:FIVE]))


def _refresher_form(
    bank: Sequence[Question], due: Sequence[Refresher], seen: dict[str, int], chance: Chooser
) -> Form:
    """Return one question for each objective that is due, the least seen of it."""
    chosen = []
    for one in due:
        of_objective = [
            (seen.get(q.id, 0), chance.random(), q)
            for q in bank
            if q.objective_id == one.objective_id
        ]
        if of_objective:
            chosen.append(min(of_objective, key=lambda row: row[:2])[2])
    return Form(tuple(laid_out(question, chance) for question in chosen))


def _resumed(
    session: Session, actor: Actor, sitting_id: UUID, purpose: Purpose, module_id: str
) -> UUID | None:
    known = session.get(Sitting, (actor.shop_id, sitting_id))
    if known is not None:
        if known.person_id != actor.person_id:
            raise NotFound()
        return sitting_id
    return next(
        (
            summary.id
            for summary in sittings_of(session, actor.shop_id, actor.person_id)
            if summary.submitted_at is None
            and summary.purpose == purpose
            and summary.module_id == module_id
        ),
        None,
    )
