"""A question found faulty is taken out of every result that rests on it."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import replace

from academy.domain.assessment.forms import Form
from academy.domain.assessment.results import ObjectiveResult, SittingResult, result_of
from academy.domain.curriculum.course import Module


def without_voided(module: Module, voided_digests: Collection[str]) -> Module:
    """Return the module with the questions that may still be drawn."""
    kept = tuple(q for q in module.questions if q.digest not in voided_digests)
    return replace(module, questions=kept)


def form_without(form: Form, voided_digests: Collection[str]) -> Form:
    """Return what is left of a form.

    A question is known by the digest of its wording: the mended question under
    the same id stays in.
    """
    return Form(
        tuple(item for item in form.questions if item.question.digest not in voided_digests)
    )


def result_without(
    form: Form,
    responses: Mapping[str, object],
    must_know: Collection[str],
    voided_digests: Collection[str],
) -> SittingResult:
    """Return the result of a form as if its voided questions had never been asked.

    The cut falls with the question, so nobody is held to a mark they could not
    reach.  What must be known and is left without a question stays open: it is
    asked again, since nobody has shown that they know it.
    """
    result = result_of(form_without(form, voided_digests), responses, must_know)
    still_asked = {objective.objective_id for objective in result.objectives}
    asked = dict.fromkeys(item.question.objective_id for item in form.questions)
    unasked = tuple(
        ObjectiveResult(name, must_know=True, right=0, asked=0)
        for name in asked
        if name in must_know and name not in still_asked
    )
    return replace(result, objectives=result.objectives + unasked)


def never_worse(before: SittingResult, after: SittingResult) -> SittingResult:
    """Return the result without the voided questions, nothing that was reached taken back.

    Where the cut had been reached it falls at least as far as the score did; an
    objective that had been met stays met, asked or not.
    """
    cut_points = after.cut_points
    if before.reached_cut:
        cut_points = min(cut_points, after.score_points)
    still_asked = {o.objective_id for o in after.objectives if o.asked}
    kept = tuple(o for o in before.objectives if o.met and o.objective_id not in still_asked)
    replaced = {objective.objective_id for objective in kept}
    others = tuple(o for o in after.objectives if o.objective_id not in replaced)
    return replace(after, cut_points=cut_points, objectives=others + kept)
