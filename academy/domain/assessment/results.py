"""What a sitting shows: the score against the form's cut, and each must-know objective."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass

from academy.domain.assessment.forms import Form
from academy.domain.assessment.scoring import marks


@dataclass(frozen=True, slots=True)
class QuestionResult:
    """What one question of the form earned, in percent of the question."""

    question_id: str
    objective_id: str
    marks: int

    @property
    def right(self) -> bool:
        """Return whether the question earned all of its marks."""
        return self.marks == 100


@dataclass(frozen=True, slots=True)
class ObjectiveResult:
    """How the questions on one objective went."""

    objective_id: str
    must_know: bool
    right: int
    asked: int

    @property
    def met(self) -> bool:
        """Return whether every question asked about the objective was right; unasked, it is not met.

        Only must-know objectives are decided by this; for others it is shown.
        """
        return 0 < self.asked == self.right


@dataclass(frozen=True, slots=True)
class SittingResult:
    """The result of one submitted sitting; points are percent of a question."""

    questions: tuple[QuestionResult, ...]
    objectives: tuple[ObjectiveResult, ...]
    score_points: int
    cut_points: int
    full_points: int

    @property
    def reached_cut(self) -> bool:
        """Return whether the score is at or above the form's cut; equal passes."""
        return self.score_points >= self.cut_points

    @property
    def missed_must_know(self) -> tuple[str, ...]:
        """Return the must-know objectives that were not met, asked or left without a question."""
        return tuple(o.objective_id for o in self.objectives if o.must_know and not o.met)

    @property
    def passed(self) -> bool:
        """Return whether the cut was reached and every must-know objective met."""
        return self.reached_cut and not self.missed_must_know


def result_of(
    form: Form, responses: Mapping[str, object], must_know: Collection[str]
) -> SittingResult:
    """Score a form.  A question without a response earns nothing."""
    questions = tuple(
        QuestionResult(
            item.question.id,
            item.question.objective_id,
            marks(item.question, responses.get(item.question.id)),
        )
        for item in form.questions
    )
    return SittingResult(
        questions=questions,
        objectives=_by_objective(questions, must_know),
        score_points=sum(question.marks for question in questions),
        cut_points=form.cut_points,
        full_points=form.full_points,
    )


def _by_objective(
    questions: tuple[QuestionResult, ...], must_know: Collection[str]
) -> tuple[ObjectiveResult, ...]:
    asked: dict[str, list[QuestionResult]] = {}
    for question in questions:
        asked.setdefault(question.objective_id, []).append(question)
    return tuple(
        ObjectiveResult(
            objective_id,
            objective_id in must_know,
            sum(question.right for question in of_objective),
            len(of_objective),
        )
        for objective_id, of_objective in asked.items()
    )
