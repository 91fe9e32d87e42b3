"""An examination answered on paper: two people enter what they read, and the two must agree."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Any
from uuid import UUID, uuid4

from sqlalchemy.orm import Session

from academy.domain.assessment.frozen import drawn_form_from_frozen
from academy.domain.curriculum.course import Course
from academy.domain.people import Permission, Role, refuse_own_practical
from academy.domain.sentences import TradeError
from academy.services.actor import Actor
from academy.services.sitting import close_sitting, save_answer
from academy.services.sitting_rows import locked_sitting
from academy.store.queries.examinations import PaperRow, paper_entries
from academy.store.tables.examinations import PaperEntry
from academy.store.tables.study import Sitting


@dataclass(eq=False)
class NotOnPaper(TradeError):
    """The sitting is answered on a device."""

    template = "This examination is not answered on paper"


@dataclass(eq=False)
class EntriesDiffer(TradeError):
    """The two readings of the paper are not the same."""

    template = "The two entries differ at question %(questions)s; look at the paper again"
    questions: str


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
    actor.require(Permission.ENTER_PAPER)
    sitting = locked_sitting(session, actor.shop_id, sitting_id)
    refuse_own_practical(actor.person_id, sitting.person_id)
    if sitting.examination is None or not sitting.examination["on_paper"]:
        raise NotOnPaper()
    if sitting.result is not None:
        return True
    plain = {question_id: dict(response) for question_id, response in responses.items()}
    others = {
        entry.entered_by: entry for entry in paper_entries(session, actor.shop_id, sitting_id)
    }
    own = others.pop(actor.person_id, None)
    _refuse_differing(sitting, others.values(), plain)
    session.merge(_paper_entry(actor, sitting_id, own, plain, now))
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
    actor: Actor,
    sitting_id: UUID,
    own: PaperRow | None,
    responses: dict[str, dict[str, Any]],
    now: datetime,
) -> PaperEntry:
    return PaperEntry(
        shop_id=actor.shop_id,
        id=own.id if own else uuid4(),
        sitting_id=sitting_id,
        entered_by=actor.person_id,
        responses=responses,
        entered_at=now,
    )


def _refuse_differing(
    sitting: Sitting, others: Collection[PaperRow], responses: Mapping[str, dict[str, Any]]
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
