"""Examinations: opened by a supervisor on the spot, timed, closed when their time is up."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import asdict, dataclass, field
from datetime import datetime
from typing import Any
from uuid import UUID

from sqlalchemy.orm import Session

from academy.domain.assessment.examination import (
    Adjustments,
    draw_examination,
)
from academy.domain.assessment.frozen import result_from_frozen
from academy.domain.assessment.least_seen import Seen
from academy.domain.assessment.progress import Purpose
from academy.domain.assessment.retake import refuse_too_soon, refuse_unread
from academy.domain.curriculum.course import Course, Module
from academy.domain.curriculum.kinds import Interaction
from academy.domain.curriculum.schemes import ExaminationRule, Scheme
from academy.domain.people import Permission, Role, refuse_own_practical
from academy.domain.sentences import TradeError
from academy.services import journal
from academy.services.actor import Actor, NotFound
from academy.services.shop_clock import on_shop_clock
from academy.services.sitting import clock_of, close_sitting
from academy.services.sitting_rows import (
    NewSitting,
    drawable,
    drawn,
    locked_sitting,
    take_turns,
    write_sitting,
)
from academy.store.queries.examinations import (
    examination_waiting,
    paper_entries,
    submitted_examinations,
)
from academy.store.queries.people import member
from academy.store.queries.study import last_form, lessons_read_since, times_seen
from academy.store.tables.study import Sitting


@dataclass(eq=False)
class NoExamination(TradeError):
    """The scheme has none."""

    template = "The scheme '%(scheme)s' has no examination"
    scheme: str


@dataclass(eq=False)
class NotACandidate(TradeError):
    """The person chosen is not in training here."""

    template = "Choose a trainee of this shop"


@dataclass(eq=False)
class OnPaper(TradeError):
    """The sitting is answered on a sheet."""

    template = "This examination is answered on paper; your supervisor has the sheet"


@dataclass(eq=False)
class StillRunning(TradeError):
    """The candidate may still answer."""

    template = "The time of this examination is not up; only the candidate hands it in before that"


@dataclass(eq=False)
class ExaminationWaiting(TradeError):
    """One examination of a scheme at a time."""

    template = (
        "An examination of this scheme is open for this trainee; use it, or withdraw it first"
    )


@dataclass(eq=False)
class Begun(TradeError):
    """Only what nobody has begun is withdrawn."""

    template = "This examination has begun; it is handed in, or closed when its time is up"


@dataclass(frozen=True, slots=True)
class NewExamination:
    """What a supervisor chooses when an examination is opened."""

    id: UUID
    trainee_id: UUID
    scheme_id: str
    language: str = "en"
    adjustments: Adjustments = field(default_factory=Adjustments)
    on_paper: bool = False


def open_examination(
    session: Session, *, actor: Actor, new: NewExamination, course: Course, now: datetime
) -> UUID:
    """Open an examination for a trainee; a known id is answered with itself.

    Raises
    ------
    NotTheirOwn, NotACandidate, NoExamination, ExaminationWaiting, TooSoon, RestudyFirst,
    TooFewQuestions
        It is not opened; nothing is written.
    """
    actor.require(Permission.OPEN_EXAMINATION)
    take_turns(session, actor.shop_id, new.trainee_id)
    if session.get(Sitting, (actor.shop_id, new.id)) is not None:
        return new.id
    refuse_own_practical(actor.person_id, new.trainee_id)
    person = member(session, actor.shop_id, new.trainee_id)
    if person is None or Role.TRAINEE not in person.roles:
        raise NotACandidate()
    scheme, modules = _scheme(course, new.scheme_id)
    rule = scheme.examination
    if rule is None:
        raise NoExamination(scheme.title)
    if examination_waiting(session, actor.shop_id, new.trainee_id, scheme.id):
        raise ExaminationWaiting()
    _refuse_retake(session, actor.shop_id, new, modules, rule, now)
    must_know = [objective.id for module in modules for objective in module.must_know]
    bank = drawable(session, actor.shop_id, modules)
    seen = _seen(session, actor.shop_id, new, bank)
    form = drawn(must_know, lambda chance: draw_examination(bank, rule, chance, seen))
    conditions: dict[str, Any] = {
        "minutes": rule.minutes,
        "language": new.language,
        "on_paper": new.on_paper,
        **asdict(new.adjustments),
    }
    write_sitting(
        session,
        NewSitting(
            new.id,
            actor.shop_id,
            new.trainee_id,
            Purpose.EXAMINATION,
            scheme_id=scheme.id,
            opened_by=actor.person_id,
            examination=conditions,
        ),
        form,
        now,
    )
    journal.append(
        session,
        shop_id=actor.shop_id,
        actor_id=actor.person_id,
        kind="examination opened",
        body={"sitting": str(new.id), "trainee": str(new.trainee_id), "scheme": scheme.id},
        at=now,
    )
    return new.id


def begin_examination(session: Session, *, actor: Actor, sitting_id: UUID, now: datetime) -> None:
    """Start the clock; beginning twice does not start it again.

    Raises
    ------
    OnPaper
        The questions are on a sheet; nothing is shown on a device.
    """
    sitting = locked_sitting(session, actor.shop_id, sitting_id)
    allowed = {sitting.person_id, sitting.opened_by}
    if sitting.examination is None or actor.person_id not in allowed:
        raise NotFound()
    if sitting.examination["on_paper"]:
        raise OnPaper()
    if sitting.begun_at is None:
        sitting.begun_at = now


def close_overdue(
    session: Session, *, actor: Actor, sitting_id: UUID, course: Course, now: datetime
) -> None:
    """Close an examination that was never handed in, with what was answered in time.

    Raises
    ------
    StillRunning
        Its time is not up, or it has not begun.
    """
    actor.require(Permission.OPEN_EXAMINATION)
    sitting = locked_sitting(session, actor.shop_id, sitting_id)
    refuse_own_practical(actor.person_id, sitting.person_id)
    clock = clock_of(sitting)
    if clock is None or not clock.over(now):
        raise StillRunning()
    close_sitting(session, sitting, actor_id=actor.person_id, course=course, now=now)


def withdraw_examination(
    session: Session, *, actor: Actor, sitting_id: UUID, now: datetime
) -> None:
    """Withdraw an examination that nobody has begun; twice is the same as once.

    Raises
    ------
    Begun
        Its clock runs, or somebody has entered its paper.
    """
    actor.require(Permission.OPEN_EXAMINATION)
    known = session.get(Sitting, (actor.shop_id, sitting_id))
    if known is not None and known.withdrawn_at is not None:
        return
    sitting = locked_sitting(session, actor.shop_id, sitting_id)
    refuse_own_practical(actor.person_id, sitting.person_id)
    if sitting.examination is None:
        raise NotFound()
    if sitting.begun_at is not None or paper_entries(session, actor.shop_id, sitting_id):
        raise Begun()
    sitting.withdrawn_at = now
    journal.append(
        session,
        shop_id=actor.shop_id,
        actor_id=actor.person_id,
        kind="examination withdrawn",
        body={"sitting": str(sitting_id), "trainee": str(sitting.person_id)},
        at=now,
    )


def _seen(session: Session, shop_id: UUID, new: NewExamination, bank: Sequence[Module]) -> Seen:
    """Return what the trainee has seen; on paper a situation that unfolds is drawn last.

    Every turn of it is printed there, and a candidate could read ahead.
    """
    unfolding = frozenset(
        question.id
        for module in bank
        for question in module.questions
        if new.on_paper and question.interaction is Interaction.SCENARIO
    )
    last = last_form(
        session, shop_id, new.trainee_id, {Purpose.EXAMINATION}, scheme_id=new.scheme_id
    )
    return Seen(times_seen(session, shop_id, new.trainee_id), last, unfolding)


def _refuse_retake(
    session: Session,
    shop_id: UUID,
    new: NewExamination,
    modules: Sequence[Module],
    rule: ExaminationRule,
    now: datetime,
) -> None:
    """Refuse while the scheme's wait lasts, or what was missed has not been read again."""
    failed = [
        row
        for row in submitted_examinations(session, shop_id, new.trainee_id)
        if row.scheme_id == new.scheme_id and row.passed is False
    ]
    if not failed:
        return
    shop_now = on_shop_clock(session, shop_id, now)
    refuse_too_soon([row.submitted_at for row in failed], rule.retake_days, shop_now)
    read = lessons_read_since(session, shop_id, new.trainee_id, failed[-1].submitted_at)
    refuse_unread(result_from_frozen(failed[-1].result), modules, read)


def _scheme(course: Course, scheme_id: str) -> tuple[Scheme, list[Module]]:
    scheme = course.scheme(scheme_id)
    if scheme is None:
        raise NotFound()
    found = [module for module in course.modules if module.id in scheme.modules]
    return scheme, found
