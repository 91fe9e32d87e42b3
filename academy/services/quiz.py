"""Opening a module's quiz: once more only when it may be, and with another form."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from uuid import UUID

from sqlalchemy.orm import Session

from academy.domain.assessment.drawing import draw_again, draw_form
from academy.domain.assessment.least_seen import Seen
from academy.domain.assessment.progress import (
    DECIDING_A_MODULE,
    Purpose,
    SubmittedSitting,
    module_progress,
)
from academy.domain.assessment.retake import refuse_too_soon, refuse_unread, to_restudy
from academy.domain.curriculum.course import Module
from academy.domain.curriculum.lessons import Lesson
from academy.domain.people import Permission
from academy.domain.sentences import TradeError
from academy.services.actor import Actor
from academy.services.evidence import submitted_in
from academy.services.shop_clock import on_shop_clock
from academy.services.sitting_rows import (
    NewSitting,
    drawable,
    drawn,
    resumed,
    take_turns,
    write_sitting,
)
from academy.store.queries.study import last_form, lessons_read_since, times_seen


@dataclass(eq=False)
class ModulePassed(TradeError):
    """There is nothing left to decide in this module."""

    template = "You have passed this module; its quiz does not have to be sat again"


@dataclass(frozen=True, slots=True)
class RetakeRule:
    """What a scheme asks between two sittings: days to wait, and reading again what was missed."""

    wait_days: int = 0
    restudy: bool = True


def open_quiz(
    session: Session,
    *,
    actor: Actor,
    sitting_id: UUID,
    module: Module,
    now: datetime,
    retake: RetakeRule | None = None,
) -> UUID:
    """Open a sitting of a module's quiz and return its id.

    A sitting that is still open is resumed instead, on whatever device; an id
    that is known already is answered with itself.  After a quiz whose cut was
    reached with a must-know objective missed, the form asks those again in
    other words.

    Raises
    ------
    ModulePassed
        The module's quiz needs no further sitting.
    TooSoon, RestudyFirst
        The scheme's retake rule is not met yet.
    TooFewQuestions
        The course cannot fill the blueprint.
    """
    actor.require(Permission.SIT_QUIZ)
    take_turns(session, actor.shop_id, actor.person_id)
    new = NewSitting(sitting_id, actor.shop_id, actor.person_id, Purpose.QUIZ, module.id)
    known = resumed(session, new, DECIDING_A_MODULE)
    if known is not None:
        return known
    earlier = submitted_in(session, actor.shop_id, actor.person_id, module.id)
    progress = module_progress(earlier)
    if progress.passed_at is not None:
        raise ModulePassed()
    again = progress.open_must_know
    if retake is not None:
        _refuse_retake(session, actor, module, earlier, retake, now)
    [bank] = drawable(session, actor.shop_id, [module])
    seen = Seen(
        times_seen(session, actor.shop_id, actor.person_id),
        last_form(session, actor.shop_id, actor.person_id, DECIDING_A_MODULE, module.id),
    )
    form = drawn(
        [objective.id for objective in module.must_know],
        lambda chance: (
            draw_again(bank.questions, again, chance, seen)
            if again
            else draw_form(bank.questions, bank.blueprint, chance, seen)
        ),
    )
    if again:
        new = replace(new, purpose=Purpose.MUST_KNOW_AGAIN)
    write_sitting(session, new, form, now)
    return sitting_id


def lessons_to_restudy(session: Session, actor: Actor, module: Module) -> tuple[Lesson, ...]:
    """Return the module's lessons that teach what was missed last and were not read again since."""
    earlier = submitted_in(session, actor.shop_id, actor.person_id, module.id)
    if not earlier:
        return ()
    return to_restudy(earlier[-1].result, [module], _read_since(session, actor, earlier[-1]))


def _refuse_retake(
    session: Session,
    actor: Actor,
    module: Module,
    earlier: Sequence[SubmittedSitting],
    rule: RetakeRule,
    now: datetime,
) -> None:
    if not earlier:
        return
    failed_at = [sitting.submitted_at for sitting in earlier if not sitting.result.passed]
    refuse_too_soon(failed_at, rule.wait_days, on_shop_clock(session, actor.shop_id, now))
    if rule.restudy:
        refuse_unread(earlier[-1].result, [module], _read_since(session, actor, earlier[-1]))


def _read_since(session: Session, actor: Actor, last: SubmittedSitting) -> frozenset[str]:
    return lessons_read_since(session, actor.shop_id, actor.person_id, last.submitted_at)
