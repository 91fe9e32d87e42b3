"""The examination of a scheme: its blueprint, its clock, and a result near the cut."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from math import sqrt

from academy.domain.assessment.forms import Form, FormQuestion, draw_form
from academy.domain.assessment.least_seen import Chooser
from academy.domain.assessment.results import SittingResult
from academy.domain.curriculum.course import Module
from academy.domain.curriculum.questions import Blueprint, BlueprintCell
from academy.domain.curriculum.schemes import ExaminationRule

SPOKEN_QUESTIONS = 3
SPOKEN_NEEDED = 2


@dataclass(frozen=True, slots=True)
class Adjustments:
    """What was adjusted for one person, without a medical reason.

    None of it touches what must be known, and none of it stands on a certificate.
    """

    extra_time_percent: int = 0
    reader: bool = False
    interpreter: bool = False
    larger_print: bool = False


@dataclass(frozen=True, slots=True)
class Clock:
    """When a timed sitting ends; the server's time alone counts."""

    begun_at: datetime
    minutes: int
    extra_time_percent: int = 0

    @property
    def ends_at(self) -> datetime:
        """Return the end, the extra time included."""
        return self.begun_at + timedelta(
            minutes=self.minutes * (100 + self.extra_time_percent) / 100
        )

    def over(self, now: datetime) -> bool:
        """Return whether time is up; the last moment still counts."""
        return now > self.ends_at


def examination_blueprint(
    module: Module, rule: ExaminationRule, chance: Chooser, seen: Mapping[str, int]
) -> Blueprint:
    """Return what one module contributes to an examination form.

    Each must-know objective gives one question; as many other cells of the
    module's blueprint as the rule says give one each, drawn by chance among
    those whose questions this person has seen least.
    """
    must_know = {objective.id for objective in module.must_know}
    cells = [cell for cell in module.blueprint.cells if cell.questions]
    kept: dict[str, BlueprintCell] = {}
    for cell in cells:
        if cell.objective_id in must_know:
            kept.setdefault(cell.objective_id, cell)
    others = [cell for cell in cells if cell.objective_id not in must_know]
    ranked = sorted(
        ((_least_seen_in(module, cell, seen), chance.random(), cell) for cell in others),
        key=lambda row: row[:2],
    )
    chosen = [*kept.values(), *(cell for _, _, cell in ranked[: rule.others_per_module])]
    return Blueprint(tuple(BlueprintCell(cell.objective_id, cell.level, 1) for cell in chosen))


def draw_examination(
    modules: Sequence[Module], rule: ExaminationRule, chance: Chooser, seen: Mapping[str, int]
) -> Form:
    """Draw an examination form over several modules, module by module in course order."""
    questions: list[FormQuestion] = []
    for module in modules:
        blueprint = examination_blueprint(module, rule, chance, seen)
        questions += draw_form(module.questions, blueprint, chance, seen).questions
    return Form(tuple(questions))


def standard_error_points(form: Form) -> float:
    """Return the standard error of a barely competent person's score on this form, in points.

    Each question is one trial at its rating: √Σ r(100 − r), in percent of a
    question.  Partial marks scatter less, so this errs on the side of asking.
    """
    return sqrt(
        sum(
            item.question.rating_percent * (100 - item.question.rating_percent)
            for item in form.questions
        )
    )


def near_the_cut(result: SittingResult, form: Form) -> bool:
    """Return whether the score lies within one standard error of the cut, above or below."""
    return abs(result.score_points - result.cut_points) <= standard_error_points(form)


def passed_with_spoken(result: SittingResult, satisfactory: Sequence[bool]) -> bool:
    """Return the outcome of a result near the cut after the prepared questions were asked.

    Two of the three answers have to be satisfactory; what must be known is not
    made up for by talking.
    """
    return sum(satisfactory) >= SPOKEN_NEEDED and not result.missed_must_know


def _least_seen_in(module: Module, cell: BlueprintCell, seen: Mapping[str, int]) -> int:
    return min(
        (
            seen.get(question.id, 0)
            for question in module.questions
            if question.objective_id == cell.objective_id and question.level is cell.level
        ),
        default=0,
    )
