"""Computing what a shop's answers say about every question, and ranking them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from uuid import UUID

import numpy as np
from sqlalchemy.orm import Session

from academy.domain.assessment.answer_parts import parts_of
from academy.domain.assessment.item_parameters import ItemParameters
from academy.domain.assessment.mending import Judged, NearCut, findings, urgency
from academy.domain.assessment.near_the_cut import near_cut
from academy.domain.assessment.one_parameter import fit_one_parameter
from academy.domain.assessment.question_evidence import CountedAnswers, evidence_of
from academy.domain.assessment.responses import responses_at
from academy.domain.assessment.shown_share import (
    UNKNOWN_BANK,
    BetaPrior,
    prior_of_bank,
    shown_share,
)
from academy.domain.assessment.wording_evidence import Evidence
from academy.domain.curriculum.course import Course
from academy.domain.curriculum.kinds import Interaction
from academy.domain.curriculum.questions import Question
from academy.domain.sentences import TradeError
from academy.services.counted_answers import ShopAnswers, answers_of_shop
from academy.services.judged_questions import JudgedQuestion, JudgedWording, QuestionQuality
from academy.store.queries import question_quality as queries

NOTHING = Evidence(0, 0, 0, 0, None, (), None, None)
WITH_OPTIONS = frozenset({Interaction.CHOICE, Interaction.MULTIPLE_RESPONSE, Interaction.HOTSPOT})


def judged(
    session: Session, shop_id: UUID, course: Course, ratings: Mapping[str, int]
) -> QuestionQuality:
    """Return how good the questions are; ``question_quality`` keeps it."""
    found = answers_of_shop(session, shop_id, course)
    evidence = _evidence(found)
    parameters = difficulties(found.answers, found.from_quiz)
    near = _near_cuts(course, found, evidence, parameters, ratings)
    present = {q.digest for module in course.modules for q in module.questions}
    prior = _prior(found, evidence, present)
    disputes = queries.dispute_counts(session, shop_id)
    wordings = [
        _judged_wording(
            question, evidence[place], prior, parameters, place, near, disputes, ratings
        )
        for place, question in enumerate(found.wordings)
    ]
    return QuestionQuality(_ranked(wordings, present, found.seen), found, parameters)


def difficulties(answers: CountedAnswers, from_quiz: np.ndarray) -> ItemParameters | None:
    """Return the one-parameter model of the answers given in quizzes; None where none can be fitted.

    Examinations are left out: who sits one has passed the quizzes, and the model
    takes everybody to be from one population.
    """
    used = from_quiz[answers.sitting] if len(answers.sitting) else np.zeros(0, dtype=bool)
    shape = (answers.sittings, answers.wordings)
    try:
        table = responses_at(
            answers.sitting[used], answers.wording[used], answers.right[used], shape
        )
        return fit_one_parameter(table, tolerance=1e-4).parameters
    except TradeError:
        return None


def _evidence(found: ShopAnswers) -> tuple[Evidence, ...]:
    known = [{part.name: part.right for part in parts_of(q)} for q in found.wordings]
    if not len(found.answers.sitting):
        return (NOTHING,) * len(found.wordings)
    return evidence_of(found.answers, known)


def _near_cuts(
    course: Course,
    found: ShopAnswers,
    evidence: Sequence[Evidence],
    parameters: ItemParameters | None,
    ratings: Mapping[str, int],
) -> dict[str, NearCut]:
    """Return what the model says of those at the pass mark, module by module."""
    if parameters is None:
        return {}
    places = {question.digest: place for place, question in enumerate(found.wordings)}
    near: dict[str, NearCut] = {}
    for module in course.modules:
        chosen = [places[question.digest] for question in module.questions]
        expected = near_cut(
            ItemParameters(parameters.a[chosen], parameters.d[chosen]),
            [ratings.get(q.digest, q.rating_percent) for q in module.questions],
            [evidence[place].answered for place in chosen],
        )
        for question, one in zip(module.questions, expected, strict=True):
            if one is not None:
                near[question.digest] = one
    return near


def _prior(found: ShopAnswers, evidence: Sequence[Evidence], present: set[str]) -> BetaPrior:
    bank = [one for q, one in zip(found.wordings, evidence, strict=True) if q.digest in present]
    if not bank:
        return UNKNOWN_BANK
    return prior_of_bank([one.right for one in bank], [one.answered for one in bank])


def _judged_wording(
    question: Question,
    evidence: Evidence,
    prior: BetaPrior,
    parameters: ItemParameters | None,
    place: int,
    near: Mapping[str, NearCut],
    disputes: Mapping[str, queries.DisputeCount],
    ratings: Mapping[str, int],
) -> JudgedWording:
    difficulty = float(parameters.b[place]) if parameters is not None else float("nan")
    share = shown_share(evidence.right, evidence.answered, prior)
    disputed = disputes.get(question.digest, queries.DisputeCount(0, 0, voided=False))
    weighed = Judged(
        evidence=evidence,
        share=share,
        rating_percent=ratings.get(question.digest, question.rating_percent),
        one_option=question.interaction is Interaction.CHOICE and not question.marks,
        options=question.interaction in WITH_OPTIONS,
        voided=disputed.voided,
        open_disputes=disputed.open,
        near_cut=near.get(question.digest),
    )
    return JudgedWording(
        question=question,
        evidence=evidence,
        share=share,
        difficulty=None if np.isnan(difficulty) else difficulty,
        near_cut=near.get(question.digest),
        disputes=disputed,
        findings=findings(weighed),
    )


def _ranked(
    wordings: Sequence[JudgedWording], present: set[str], seen: Mapping[str, int]
) -> tuple[JudgedQuestion, ...]:
    earlier: dict[str, list[JudgedWording]] = {}
    for one in wordings:
        if one.question.digest not in present:
            earlier.setdefault(one.question.id, []).append(replace(one, findings=()))
    questions = [
        JudgedQuestion(one, tuple(earlier.get(one.question.id, ())), seen.get(one.question.id, 0))
        for one in wordings
        if one.question.digest in present
    ]
    return tuple(
        sorted(
            questions,
            key=lambda one: (urgency(one.now.findings), -one.now.evidence.answered, one.id),
        )
    )
