"""Practice: five questions of a module with every reason at once; it never counts."""

from __future__ import annotations

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
)
from academy.domain.curriculum.course import Module
from academy.domain.curriculum.questions import Question
from academy.domain.people import Permission
from academy.domain.sentences import TradeError
from academy.services.actor import Actor
from academy.services.open_forms import refuse_result
from academy.services.sitting_rows import (
    NewSitting,
    drawable,
    drawn,
    resumed,
    take_turns,
    write_sitting,
)
from academy.store.queries.study import times_seen


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
    asked = refuse_result(session, actor, module.id, ()).questions
    new = NewSitting(sitting_id, actor.shop_id, actor.person_id, Purpose.PRACTICE, module.id)
    known = resumed(session, new)
    if known is not None:
        return known
    seen = times_seen(session, actor.shop_id, actor.person_id)
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
    write_sitting(session, new, form, now)
    return sitting_id


def _practice_form(bank: Sequence[Question], seen: dict[str, int], chance: Chooser) -> Form:
    ranked = sorted(((q.id not in seen, chance.random(), q) for q in bank), key=lambda row: row[:2])
    return Form(tuple(laid_out(question, chance) for _, _, question in ranked[:FIVE]))
