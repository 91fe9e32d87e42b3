"""A drawn form and its result as the plain values a sitting keeps."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import asdict, dataclass
from typing import Any

from academy.domain.assessment.forms import Form, FormQuestion
from academy.domain.assessment.re_rating import CutRating
from academy.domain.assessment.results import ObjectiveResult, QuestionResult, SittingResult
from academy.domain.curriculum.frozen import frozen_question, question_from_frozen

FORMAT = 1


@dataclass(frozen=True, slots=True)
class DrawnForm:
    """A form as drawn for one sitting, with what decides it: the must-know objectives and the seed.

    ``cut_rating`` is there where some of its questions had been rated again.
    """

    form: Form
    must_know: tuple[str, ...]
    seed: int
    cut_rating: CutRating | None = None


def frozen_drawn_form(drawn: DrawnForm) -> dict[str, Any]:
    """Return the form with the exact wording of every question."""
    rating = {"cut_rating": asdict(drawn.cut_rating)} if drawn.cut_rating else {}
    return rating | {
        "format": FORMAT,
        "seed": str(drawn.seed),
        "must_know": list(drawn.must_know),
        "questions": [
            {
                "question": frozen_question(item.question),
                "option_order": list(item.option_order),
                "partner_order": list(item.partner_order),
            }
            for item in drawn.form.questions
        ],
    }


def drawn_form_from_frozen(stored: Mapping[str, Any]) -> DrawnForm:
    """Return the form again, without the course it came from."""
    questions = tuple(
        FormQuestion(
            question_from_frozen(item["question"]),
            tuple(item["option_order"]),
            tuple(item["partner_order"]),
        )
        for item in stored["questions"]
    )
    rating = stored.get("cut_rating")
    return DrawnForm(
        Form(questions),
        tuple(stored["must_know"]),
        int(stored["seed"]),
        CutRating(**rating) if rating else None,
    )


def frozen_result(result: SittingResult) -> dict[str, Any]:
    """Return a result as plain values."""
    return {
        "format": FORMAT,
        "score_points": result.score_points,
        "cut_points": result.cut_points,
        "full_points": result.full_points,
        "questions": [[q.question_id, q.objective_id, q.marks] for q in result.questions],
        "objectives": [[o.objective_id, o.must_know, o.right, o.asked] for o in result.objectives],
    }


def result_from_frozen(stored: Mapping[str, Any]) -> SittingResult:
    """Return a result again."""
    return SittingResult(
        tuple(QuestionResult(*row) for row in stored["questions"]),
        tuple(ObjectiveResult(*row) for row in stored["objectives"]),
        stored["score_points"],
        stored["cut_points"],
        stored["full_points"],
    )
