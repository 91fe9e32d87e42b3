"""What an owner decides about a question on the list to be mended."""

from __future__ import annotations

from datetime import datetime
from uuid import UUID

from sqlalchemy.orm import Session

from academy.domain.assessment.mending_notes import Mending
from academy.domain.curriculum.questions import Question
from academy.domain.people import Permission
from academy.services.actor import Actor
from academy.store.queries.rating_rounds import NoteRow, mending_notes
from academy.store.tables.question_quality import MendingNote


def note_mending(
    session: Session,
    *,
    actor: Actor,
    note_id: UUID,
    question: Question,
    mending: Mending,
    reason: str,
    now: datetime,
) -> None:
    """Take a wording off the list, or put it back; the same id sent twice is kept once.

    It holds for the wording as it stands: a changed one is judged afresh.
    """
    actor.require(Permission.JUDGE_QUESTIONS)
    if session.get(MendingNote, (actor.shop_id, note_id)) is not None:
        return
    session.add(
        MendingNote(
            shop_id=actor.shop_id, id=note_id, question_id=question.id,
            question_digest=question.digest, mending=mending, reason=reason,
            noted_by=actor.person_id, noted_at=now,
        )
    )  # fmt: skip


def notes_in_force(session: Session, shop_id: UUID) -> dict[str, NoteRow]:
    """Return the newest note about each wording."""
    return {note.wording: note for note in mending_notes(session, shop_id)}


def notes_of(session: Session, shop_id: UUID, question_id: str) -> list[NoteRow]:
    """Return every note about a question in any wording, oldest first."""
    return [note for note in mending_notes(session, shop_id) if note.question_id == question_id]
