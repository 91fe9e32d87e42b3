"""Reading a shop's answers as evidence about its questions."""

from __future__ import annotations

import json
from collections import Counter, defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from uuid import UUID

import numpy as np
from sqlalchemy.orm import Session

from academy.domain.assessment.answer_parts import parts_taken
from academy.domain.assessment.fair_evidence import SatForm, counted_sittings, met_first
from academy.domain.assessment.frozen import drawn_form_from_frozen
from academy.domain.assessment.progress import Purpose
from academy.domain.assessment.question_evidence import CountedAnswers
from academy.domain.assessment.quiz_quality import SatQuiz
from academy.domain.curriculum.course import Course
from academy.domain.curriculum.questions import Question
from academy.store.queries import question_quality as queries
from academy.store.queries.question_quality import OpenedSitting, Presented


@dataclass(frozen=True, slots=True)
class CountedForm:
    """One first sitting of a quiz or an examination, and the wordings on its form."""

    sat: SatQuiz
    form: tuple[int, ...]


@dataclass(frozen=True, slots=True, eq=False)
class ShopAnswers:
    """A shop's answers that count, and the sittings they come from.

    ``wordings`` lists every wording of the course and every other one that was
    presented; ``answers`` and ``quizzes`` point into it.  ``seen`` counts how often
    a question was presented at all, practice included.  ``quizzes`` holds the counted
    quizzes by module and ``examinations`` those by scheme, the newest first.
    """

    wordings: tuple[Question, ...]
    answers: CountedAnswers
    from_quiz: np.ndarray
    seen: Mapping[str, int]
    quizzes: Mapping[str, tuple[CountedForm, ...]]
    examinations: Mapping[str, tuple[CountedForm, ...]]


def answers_of_shop(session: Session, shop_id: UUID, course: Course) -> ShopAnswers:
    """Return what a shop's answers say about questions; ``fair_evidence`` says which count."""
    opened = queries.opened_sittings(session, shop_id)
    presented: dict[str, list[Presented]] = defaultdict(list)
    for one in queries.presented(session, shop_id):
        presented[one.sitting].append(one)
    texts = queries.response_texts(session, shop_id)
    answered = {sitting for sitting, _question in texts}
    counted = counted_sittings(_sat_form(one, one.sitting in answered) for one in opened)
    wordings = _wordings(session, shop_id, course, presented)
    places = {question.digest: place for place, question in enumerate(wordings)}
    forms = _forms(session, shop_id, opened, presented, counted, places)
    return ShopAnswers(
        wordings=wordings,
        answers=_answers(opened, presented, counted, texts, wordings, places),
        from_quiz=np.array(
            [one.purpose == Purpose.QUIZ for one in opened if one.sitting in counted], dtype=bool
        ),
        seen=Counter(one.question_id for form in presented.values() for one in form),
        quizzes={name: found for (kind, name), found in forms.items() if kind == Purpose.QUIZ},
        examinations={
            name: found for (kind, name), found in forms.items() if kind == Purpose.EXAMINATION
        },
    )


def _forms(
    session: Session,
    shop_id: UUID,
    opened: Sequence[OpenedSitting],
    presented: Mapping[str, Sequence[Presented]],
    counted: frozenset[str],
    places: Mapping[str, int],
) -> dict[tuple[str, str], tuple[CountedForm, ...]]:
    """Return the counted sittings by purpose and by module or scheme, the newest first."""
    results = queries.results(session, shop_id)
    forms: dict[tuple[str, str], list[CountedForm]] = defaultdict(list)
    for one in reversed(opened):
        if one.sitting not in counted:
            continue
        result = results[one.sitting]
        sat = SatQuiz(
            result["score_points"], result["cut_points"], result["full_points"], one.passed
        )
        form = tuple(places[question.wording] for question in presented[one.sitting])
        forms[one.purpose, one.scheme_id or one.module_id].append(CountedForm(sat, form))
    return {subject: tuple(found) for subject, found in forms.items()}


def _sat_form(one: OpenedSitting, anything_answered: bool) -> SatForm:
    purpose = Purpose(one.purpose)
    subject = one.scheme_id if purpose is Purpose.EXAMINATION else one.module_id
    return SatForm(
        one.sitting,
        one.person,
        purpose,
        subject or "",
        one.submitted_at is not None,
        anything_answered,
    )


def _wordings(
    session: Session, shop_id: UUID, course: Course, presented: Mapping[str, Sequence[Presented]]
) -> tuple[Question, ...]:
    """Return the course's questions as they are worded now, then the earlier wordings presented."""
    now = {question.digest: question for module in course.modules for question in module.questions}
    earlier = sorted(
        {one.wording for form in presented.values() for one in form if one.wording not in now}
    )
    return (*now.values(), *earlier_wordings(session, shop_id, earlier))


def earlier_wordings(
    session: Session, shop_id: UUID, digests: Sequence[str]
) -> tuple[Question, ...]:
    """Return wordings as sittings keep them."""
    found = []
    for digest, form in queries.form_with(session, shop_id, digests).items():
        questions = (item.question for item in drawn_form_from_frozen(form).form.questions)
        found.append(next(question for question in questions if question.digest == digest))
    return tuple(found)


def _answers(
    opened: Sequence[OpenedSitting],
    presented: Mapping[str, Sequence[Presented]],
    counted: frozenset[str],
    texts: Mapping[tuple[str, str], str],
    wordings: Sequence[Question],
    places: Mapping[str, int],
) -> CountedAnswers:
    in_order = [(one, question) for one in opened for question in presented.get(one.sitting, ())]
    first = met_first((one.person, question.question_id) for one, question in in_order)
    row_of = {
        sitting: row
        for row, sitting in enumerate(one.sitting for one in opened if one.sitting in counted)
    }
    kept = [
        (row_of[one.sitting], places[question.wording], question.marks == 100, question)
        for (one, question), is_first in zip(in_order, first, strict=True)
        if is_first and question.marks is not None and one.sitting in counted
    ]
    read: dict[tuple[int, str | None], frozenset[str]] = {}
    parts = []
    for _row, place, _right, question in kept:
        text = texts.get((question.sitting, question.question_id))
        mark = (place, text)
        if mark not in read:
            read[mark] = parts_taken(wordings[place], json.loads(text) if text else None)
        parts.append(read[mark])
    return CountedAnswers(
        sitting=np.array([row for row, *_ in kept], dtype=np.intp),
        wording=np.array([place for _, place, *_ in kept], dtype=np.intp),
        right=np.array([right for _, _, right, _ in kept], dtype=bool),
        parts=parts,
        sittings=len(row_of),
        wordings=len(wordings),
    )
