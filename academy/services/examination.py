"""Examinations: opened by a supervisor on the spot, timed, decided near the cut by spoken answers."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import asdict, dataclass, field
from datetime import datetime
from random import Random
from typing import Any
from uuid import UUID, uuid4

from sqlalchemy.orm import Session

from academy.domain.assessment.examination import (
    SPOKEN_QUESTIONS,
    Adjustments,
    draw_examination,
    passed_with_spoken,
)
from academy.domain.assessment.frozen import drawn_form_from_frozen, result_from_frozen
from academy.domain.assessment.progress import Purpose, SubmittedSitting
from academy.domain.assessment.retake import held_back, refuse_too_soon
from academy.domain.curriculum.course import Course, Module
from academy.domain.curriculum.kinds import Interaction
from academy.domain.curriculum.schemes import Scheme, SpokenQuestion
from academy.domain.people import Permission, Role, refuse_own_practical
from academy.domain.sentences import TradeError
from academy.services import journal
from academy.services.actor import Actor, NotFound
from academy.services.sitting import clock_of, close_sitting, save_answer
from academy.services.sitting_rows import (
    NewSitting,
    drawn,
    locked_sitting,
    take_turns,
    write_sitting,
)
from academy.services.standing import rewrite_standings
from academy.store.queries.examinations import (
    paper_entries,
    spoken_answers,
    submitted_examinations,
    times_seen_anywhere,
)
from academy.store.queries.people import member
from academy.store.tables.examinations import PaperEntry, SpokenAnswer
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
class NothingHeld(TradeError):
    """Only a result near the cut waits for spoken answers."""

    template = "This result does not wait for spoken answers"


@dataclass(eq=False)
class NotPrepared(TradeError):
    """The question is not one of those drawn for this result."""

    template = "Ask one of the prepared questions shown for this result"


@dataclass(eq=False)
class NotOnPaper(TradeError):
    """The sitting is answered on a device."""

    template = "This examination is not answered on paper"


@dataclass(eq=False)
class OnPaper(TradeError):
    """The sitting is answered on a sheet."""

    template = "This examination is answered on paper; your supervisor has the sheet"


@dataclass(eq=False)
class StillRunning(TradeError):
    """The candidate may still answer."""

    template = "The time of this examination is not up; only the candidate hands it in before that"


@dataclass(eq=False)
class EntriesDiffer(TradeError):
    """The two readings of the paper are not the same."""

    template = "The two entries differ at question %(questions)s; look at the paper again"
    questions: str


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
    NotTheirOwn, NotACandidate, NoExamination, TooSoon, TooFewQuestions
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
    earlier = _earlier(session, actor.shop_id, new)
    refuse_too_soon([one for one, passed in earlier if passed is False], rule.retake_days, now)
    seen = held_back(
        times_seen_anywhere(session, actor.shop_id, new.trainee_id),
        earlier[-1][0].result if earlier else None,
    )
    must_know = [objective.id for module in modules for objective in module.must_know]
    if new.on_paper:
        seen = _unfolding_last(modules, seen)
    form = drawn(must_know, lambda chance: draw_examination(modules, rule, chance, seen))
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


def spoken_questions(sitting: Sitting, course: Course) -> tuple[SpokenQuestion, ...]:
    """Return the three prepared questions of a result near the cut.

    They are drawn by the form's own seed, so asking again shows the same three:
    those on objectives that were missed first, then those of the form, then
    others of the scheme's modules.
    """
    form = drawn_form_from_frozen(sitting.form)
    on_form = {item.question.objective_id for item in form.form.questions}
    missed: set[str] = set()
    if sitting.result is not None:
        result = result_from_frozen(sitting.result)
        missed = {question.objective_id for question in result.questions if not question.right}
    taught = on_form | _objectives(course, sitting.scheme_id)
    candidates = [question for question in course.spoken if question.objective_id in taught]
    Random(form.seed).shuffle(candidates)
    candidates.sort(key=lambda q: (q.objective_id not in missed, q.objective_id not in on_form))
    return tuple(candidates[:SPOKEN_QUESTIONS])


def record_spoken_answer(
    session: Session,
    *,
    actor: Actor,
    sitting_id: UUID,
    spoken_id: str,
    answer: str,
    satisfactory: bool,
    course: Course,
    now: datetime,
) -> bool | None:
    """Record one spoken answer; after the third the result is decided.

    Returns
    -------
    bool or None
        Whether the examination is passed, None while answers are still missing.
    """
    actor.require(Permission.OPEN_EXAMINATION)
    sitting = locked_sitting(session, actor.shop_id, sitting_id)
    refuse_own_practical(actor.person_id, sitting.person_id)
    if sitting.result is None or sitting.passed is not None:
        raise NothingHeld()
    asked = {question.id: question for question in spoken_questions(sitting, course)}
    if spoken_id not in asked:
        raise NotPrepared()
    given = spoken_answers(session, actor.shop_id, sitting_id)
    if spoken_id not in {row.spoken_id for row in given}:
        session.add(
            SpokenAnswer(
                shop_id=actor.shop_id,
                id=uuid4(),
                sitting_id=sitting_id,
                spoken_id=spoken_id,
                question=_frozen_spoken(asked[spoken_id]),
                answer=answer,
                satisfactory=satisfactory,
                asked_by=actor.person_id,
                asked_at=now,
            )
        )
        session.flush()
    return _decide_held(session, actor, sitting, course, now)


def enter_paper(
    session: Session,
    *,
    actor: Actor,
    sitting_id: UUID,
    responses: Mapping[str, Mapping[str, Any]],
    course: Course,
    now: datetime,
) -> bool:
    """Enter a paper as one person reads it; the second equal reading hands it in.

    Returns
    -------
    bool
        Whether two people's entries agree and the paper is handed in.

    Raises
    ------
    EntriesDiffer
        Names the questions; the second entry is not kept.
    """
    actor.require(Permission.OPEN_EXAMINATION)
    sitting = locked_sitting(session, actor.shop_id, sitting_id)
    refuse_own_practical(actor.person_id, sitting.person_id)
    if sitting.examination is None or not sitting.examination["on_paper"]:
        raise NotOnPaper()
    if sitting.result is not None:
        return True
    plain = {question_id: dict(response) for question_id, response in responses.items()}
    others = [
        entry
        for entry in paper_entries(session, actor.shop_id, sitting_id)
        if entry.entered_by != actor.person_id
    ]
    _refuse_differing(sitting, others, plain)
    session.merge(_paper_entry(session, actor, sitting_id, plain, now))
    if not others:
        return False
    _hand_in_paper(session, actor, sitting, plain, course, now)
    return True


def _hand_in_paper(
    session: Session,
    actor: Actor,
    sitting: Sitting,
    responses: Mapping[str, dict[str, Any]],
    course: Course,
    now: datetime,
) -> None:
    candidate = Actor(sitting.person_id, sitting.shop_id, "", frozenset({Role.TRAINEE}))
    sitting.begun_at = sitting.begun_at or now
    for question_id, response in responses.items():
        save_answer(
            session,
            actor=candidate,
            sitting_id=sitting.id,
            answer_id=uuid4(),
            question_id=question_id,
            response=response,
            now=sitting.begun_at,
        )
        session.flush()
    close_sitting(session, sitting, actor_id=actor.person_id, course=course, now=now)


def _paper_entry(
    session: Session,
    actor: Actor,
    sitting_id: UUID,
    responses: dict[str, dict[str, Any]],
    now: datetime,
) -> PaperEntry:
    own = [
        entry
        for entry in paper_entries(session, actor.shop_id, sitting_id)
        if entry.entered_by == actor.person_id
    ]
    return PaperEntry(
        shop_id=actor.shop_id,
        id=own[0].id if own else uuid4(),
        sitting_id=sitting_id,
        entered_by=actor.person_id,
        responses=responses,
        entered_at=now,
    )


def _refuse_differing(
    sitting: Sitting, others: Sequence[Any], responses: Mapping[str, dict[str, Any]]
) -> None:
    form = drawn_form_from_frozen(sitting.form).form
    differing = [
        str(position)
        for position, question_id in enumerate(form.question_ids, 1)
        for entry in others
        if entry.responses.get(question_id) != responses.get(question_id)
    ]
    if differing:
        raise EntriesDiffer(", ".join(dict.fromkeys(differing)))


def _decide_held(
    session: Session, actor: Actor, sitting: Sitting, course: Course, now: datetime
) -> bool | None:
    given = spoken_answers(session, actor.shop_id, sitting.id)
    if len(given) < SPOKEN_QUESTIONS or sitting.result is None:
        return None
    result = result_from_frozen(sitting.result)
    sitting.passed = passed_with_spoken(result, [row.satisfactory for row in given])
    journal.append(
        session,
        shop_id=actor.shop_id,
        actor_id=actor.person_id,
        kind="examination decided",
        body={
            "sitting": str(sitting.id),
            "spoken": {row.spoken_id: row.satisfactory for row in given},
            "passed": sitting.passed,
        },
        at=now,
    )
    rewrite_standings(
        session, shop_id=actor.shop_id, person_id=sitting.person_id, course=course, now=now
    )
    return sitting.passed


def _unfolding_last(modules: Sequence[Module], seen: Mapping[str, int]) -> dict[str, int]:
    """Return how often questions were seen, so that a situation that unfolds is drawn last.

    On paper every turn of it is printed, and a candidate could read ahead.
    """
    beyond = max(seen.values(), default=0) + 1
    return dict(seen) | {
        question.id: seen.get(question.id, 0) + beyond
        for module in modules
        for question in module.questions
        if question.interaction is Interaction.SCENARIO
    }


def _earlier(
    session: Session, shop_id: UUID, new: NewExamination
) -> list[tuple[SubmittedSitting, bool | None]]:
    """Return the trainee's submitted examinations of the scheme, each with what was decided."""
    return [
        (
            SubmittedSitting(Purpose.EXAMINATION, row.submitted_at, result_from_frozen(row.result)),
            row.passed,
        )
        for row in submitted_examinations(session, shop_id, new.trainee_id)
        if row.scheme_id == new.scheme_id
    ]


def _scheme(course: Course, scheme_id: str) -> tuple[Scheme, list[Module]]:
    scheme = course.scheme(scheme_id)
    if scheme is None:
        raise NotFound()
    found = [module for module in course.modules if module.id in scheme.modules]
    return scheme, found


def _objectives(course: Course, scheme_id: str | None) -> set[str]:
    scheme = course.scheme(scheme_id or "")
    asked = scheme.modules if scheme else ()
    return {o.id for module in course.modules if module.id in asked for o in module.objectives}


def _frozen_spoken(question: SpokenQuestion) -> dict[str, Any]:
    return {
        "id": question.id,
        "objective": question.objective_id,
        "text_html": question.text_html,
        "model_answer_html": question.model_answer_html,
        "digest": question.digest,
    }
