"""Writing and scoring the rows of a sitting; quizzes, examinations and refreshers share them."""

from __future__ import annotations

import secrets
from collections.abc import Callable, Collection, Iterable
from dataclasses import dataclass
from datetime import datetime
from random import Random
from typing import Any
from uuid import UUID

from sqlalchemy import select
from sqlalchemy.orm import Session

from academy.domain.assessment.examination import examination_outcome
from academy.domain.assessment.forms import Form
from academy.domain.assessment.frozen import (
    DrawnForm,
    drawn_form_from_frozen,
    frozen_drawn_form,
    frozen_result,
)
from academy.domain.assessment.progress import Purpose
from academy.domain.assessment.results import SittingResult
from academy.domain.assessment.voiding import form_without, result_without, without_voided
from academy.domain.curriculum.course import Module
from academy.keys.digests import digest_of
from academy.services import journal
from academy.services.actor import NotFound
from academy.services.ratings import rated_form
from academy.store.queries.disputes import voided_digests
from academy.store.queries.examinations import spoken_answers
from academy.store.queries.study import open_sitting_of, responses
from academy.store.tables.people import Membership
from academy.store.tables.study import Sitting, SittingQuestion


@dataclass(frozen=True, slots=True)
class NewSitting:
    """What a sitting is opened with; ``examination`` holds an examination's conditions."""

    id: UUID
    shop_id: UUID
    person_id: UUID
    purpose: Purpose
    module_id: str = ""
    scheme_id: str | None = None
    opened_by: UUID | None = None
    examination: dict[str, Any] | None = None


def take_turns(session: Session, shop_id: UUID, person_id: UUID) -> None:
    """Let one device at a time open a sitting for a person; the other finds it open already."""
    session.execute(
        select(Membership.person_id)
        .where(Membership.shop_id == shop_id, Membership.person_id == person_id)
        .with_for_update()
    )


def drawn(must_know: Collection[str], draw: Callable[[Random], Form]) -> DrawnForm:
    """Draw a form from a fresh seed and keep the seed beside it."""
    seed = secrets.randbits(64)
    return DrawnForm(draw(Random(seed)), tuple(must_know), seed)


def write_sitting(session: Session, new: NewSitting, form: DrawnForm, now: datetime) -> Sitting:
    """Write a sitting with the exact wording of its form, and a row for each question.

    The form gets the ratings in force today, and keeps them.
    """
    form = rated_form(session, new.shop_id, form)
    frozen = frozen_drawn_form(form)
    sitting = Sitting(
        shop_id=new.shop_id,
        id=new.id,
        person_id=new.person_id,
        module_id=new.module_id,
        purpose=new.purpose,
        form=frozen,
        form_digest=digest_of(frozen),
        opened_at=now,
        scheme_id=new.scheme_id,
        opened_by=new.opened_by,
        examination=new.examination,
    )
    session.add(sitting)
    session.flush()
    session.add_all(
        SittingQuestion(
            shop_id=new.shop_id,
            sitting_id=new.id,
            position=position,
            question_id=item.question.id,
            question_digest=item.question.digest,
        )
        for position, item in enumerate(form.form.questions, 1)
    )
    return sitting


def resumed(
    session: Session, new: NewSitting, purposes: Collection[Purpose] | None = None
) -> UUID | None:
    """Return the sitting that is known by the id, or open for the same thing, or None.

    ``purposes`` are those that count as the same thing; without them the new one's alone.

    Raises
    ------
    NotFound
        The id is somebody else's sitting.
    """
    known = session.get(Sitting, (new.shop_id, new.id))
    if known is not None:
        if known.person_id != new.person_id:
            raise NotFound()
        return known.id
    unfinished = open_sitting_of(
        session, new.shop_id, new.person_id, new.module_id, purposes or {new.purpose}
    )
    return unfinished.id if unfinished else None


def locked_sitting(session: Session, shop_id: UUID, sitting_id: UUID) -> Sitting:
    """Return a sitting of a shop, locked until commit; NotFound for anything else."""
    sitting = session.scalars(
        select(Sitting)
        .where(Sitting.shop_id == shop_id, Sitting.id == sitting_id)
        .with_for_update()
    ).one_or_none()
    if sitting is None or sitting.withdrawn_at is not None:
        raise NotFound()
    return sitting


def drawable(session: Session, shop_id: UUID, modules: Iterable[Module]) -> list[Module]:
    """Return modules with the questions a shop may still draw: none that was voided there."""
    voided = voided_digests(session, shop_id)
    return [without_voided(module, voided) for module in modules]


def score(session: Session, sitting: Sitting) -> SittingResult:
    """Score a sitting from the wording it was answered on, without what was voided since."""
    form = drawn_form_from_frozen(sitting.form)
    given = responses(session, sitting.shop_id, sitting.id)
    voided = voided_digests(session, sitting.shop_id)
    return result_without(form.form, given, set(form.must_know), voided)


def outcome(session: Session, sitting: Sitting, result: SittingResult) -> bool | None:
    """Return whether a sitting with this result is passed; None while it is held near the cut."""
    if sitting.purpose != Purpose.EXAMINATION:
        return bool(result.questions) and result.passed
    voided = voided_digests(session, sitting.shop_id)
    form = form_without(drawn_form_from_frozen(sitting.form).form, voided)
    spoken = spoken_answers(session, sitting.shop_id, sitting.id)
    return examination_outcome(result, form, [row.satisfactory for row in spoken])


def write_result(
    session: Session,
    sitting: Sitting,
    result: SittingResult,
    *,
    passed: bool | None,
    actor_id: UUID,
    now: datetime,
) -> None:
    """Close a sitting with its result and note it in the journal; ``passed`` None is still held."""
    sitting.submitted_at = now
    sitting.result = frozen_result(result)
    sitting.passed = passed
    _write_marks(session, sitting, result)
    note_submitted(session, sitting, actor_id)


def note_submitted(session: Session, sitting: Sitting, actor_id: UUID) -> None:
    """Note a closed sitting in the journal."""
    assert sitting.submitted_at is not None
    journal.append(
        session,
        shop_id=sitting.shop_id,
        actor_id=actor_id,
        kind="sitting submitted",
        body={
            "sitting": str(sitting.id),
            "purpose": str(sitting.purpose),
            "module": sitting.module_id,
            "scheme": sitting.scheme_id,
            "form": sitting.form_digest,
            "result": digest_of(sitting.result),
            "passed": sitting.passed,
        },
        at=sitting.submitted_at,
    )


def _write_marks(session: Session, sitting: Sitting, result: SittingResult) -> None:
    earned = {question.question_id: question.marks for question in result.questions}
    rows = session.scalars(
        select(SittingQuestion).where(
            SittingQuestion.shop_id == sitting.shop_id, SittingQuestion.sitting_id == sitting.id
        )
    )
    for row in rows:
        row.marks = earned.get(row.question_id)
