"""A question found faulty is taken out of every result that rests on it."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import replace

from academy.domain.assessment.forms import Form
from academy.domain.assessment.results import ObjectiveResult, SittingResult, result_of


def result_without(
    form: Form,
    responses: Mapping[str, object],
    must_know: Collection[str],
    voided_digests: Collection[str],
) -> SittingResult:
    """Return the result of a form as if its voided questions had never been asked.

    A question is known by the digest of its wording: the mended question under
    the same id stays in.  The cut falls with the question, so nobody is held to
    a mark they could not reach.
    """
    kept = tuple(item for item in form.questions if item.question.digest not in voided_digests)
    return result_of(Form(kept), responses, must_know)


def never_worse(before: SittingResult, after: SittingResult) -> SittingResult:
    """Return the result without the voided questions, nothing that was reached taken back.

    Where the cut had been reached it falls at least as far as the score did; an
    objective that had been met stays met, asked or not.
    """
    cut_points = after.cut_points
    if before.reached_cut:
        cut_points = min(cut_points, after.score_points)
    still_asked = {objective.objective_id for objective in after.objectives}
    met = tuple(
        ObjectiveResult(objective.objective_id, objective.must_know, 0, 0)
        for objective in before.objectives
        if objective.met and objective.objective_id not in still_asked
    )
    return replace(after, cut_points=cut_points, objectives=after.objectives + met)


def still_passed(before: bool, after: SittingResult) -> bool:
    """Return whether a sitting counts as passed after a question was voided.

    A fault in our question never takes back what a person had passed.
    """
    return before or (bool(after.questions) and after.passed)
