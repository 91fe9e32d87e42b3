"""What a person is being asked now; its keys and reasons are shown nowhere until it is handed in."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass

from sqlalchemy.orm import Session

from academy.domain.assessment.frozen import drawn_form_from_frozen
from academy.domain.assessment.progress import DECIDING_A_MODULE, Purpose
from academy.domain.sentences import TradeError
from academy.services.actor import Actor
from academy.store.queries.study import OpenForm, open_forms


@dataclass(eq=False)
class HandInFirst(TradeError):
    """A page shows answers that a sitting which counts may still ask for."""

    template = "Hand in first what you have begun; answers and reasons are shown after that"


@dataclass(frozen=True, slots=True)
class Asked:
    """What a person's open forms ask, in whichever shop they were opened.

    ``quizzes`` are the modules whose quiz is open, ``modules`` all that some
    question on an open form belongs to.
    """

    examining: bool
    quizzes: frozenset[str]
    modules: frozenset[str]
    questions: frozenset[str]


def asked_now(session: Session, actor: Actor) -> Asked:
    """Return what is being asked of a person; practice does not count."""
    forms = open_forms(session, actor.person_id, {p for p in Purpose if p.refreshes})
    items = [
        item.question for form in forms for item in drawn_form_from_frozen(form.form).form.questions
    ]
    quizzes = {form.module_id for form in forms if form.purpose in DECIDING_A_MODULE}
    return Asked(
        examining=any(_examines(form) for form in forms),
        quizzes=frozenset(quizzes),
        modules=frozenset(quizzes | {question.module_id for question in items}),
        questions=frozenset(question.id for question in items),
    )


def refuse_while_it_counts(
    session: Session,
    actor: Actor,
    module_id: str | None = None,
    *,
    questions: Collection[str] = (),
) -> Asked:
    """Return what is being asked of a person whose open forms let these keys be shown.

    Raises
    ------
    HandInFirst
        The keys of the module or of these questions could still be used.  While an
        examination of this person runs, nothing is shown at all.
    """
    asked = asked_now(session, actor)
    if asked.examining or module_id in asked.modules or not asked.questions.isdisjoint(questions):
        raise HandInFirst()
    return asked


def refuse_result(
    session: Session, actor: Actor, module_id: str, questions: Collection[str]
) -> Asked:
    """Return what is being asked of a person who may see a result of a module.

    Raises
    ------
    HandInFirst
        The same quiz is open, or some form asks one of these questions.
    """
    asked = asked_now(session, actor)
    if asked.examining or module_id in asked.quizzes or not asked.questions.isdisjoint(questions):
        raise HandInFirst()
    return asked


def refuse_while_examined(session: Session, actor: Actor) -> None:
    """Raise HandInFirst while an examination of this person runs."""
    forms = open_forms(session, actor.person_id, {Purpose.EXAMINATION})
    if any(_examines(form) for form in forms):
        raise HandInFirst()


def _examines(form: OpenForm) -> bool:
    return form.purpose == Purpose.EXAMINATION and form.begun_at is not None
