"""The examination of a scheme: its blueprint, its clock, and a result near the cut."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from math import sqrt

from academy.domain.assessment.drawing import Part, chosen, in_cell
from academy.domain.assessment.forms import Form, FormQuestion, laid_out
from academy.domain.assessment.least_seen import NEVER_SEEN, Chooser, Pool, Seen, any_of
from academy.domain.assessment.results import SittingResult
from academy.domain.curriculum.course import Module
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


def draw_examination(
    modules: Sequence[Module], rule: ExaminationRule, chance: Chooser, seen: Seen = NEVER_SEEN
) -> Form:
    """Draw an examination form over several modules, module by module in course order.

    Each must-know objective gives one question; as many other cells of each
    module's blueprint as the rule says give one each.  All are chosen together,
    so that questions of different modules that give each other away do not meet,
    and as little as may be was on this person's last form.

    Raises
    ------
    TooFewQuestions
        Names the objective that cannot be filled.
    """
    by_module = [tuple(_parts(module, rule)) for module in modules]
    given = chosen([part for parts in by_module for part in parts], chance, seen)
    questions: list[FormQuestion] = []
    for parts in by_module:
        of_module = [question for _ in parts for question in given.pop(0)]
        chance.shuffle(of_module)
        questions += [laid_out(question, chance) for question in of_module]
    return Form(tuple(questions))


def _parts(module: Module, rule: ExaminationRule) -> Iterator[Part]:
    """Yield what one module contributes to an examination form."""
    cells = [cell for cell in module.blueprint.cells if cell.questions]
    for objective in module.must_know:
        own = tuple(cell for cell in cells if cell.objective_id == objective.id)
        if own:
            questions = [q for cell in own for q in in_cell(module.questions, cell)]
            yield Part(own[:1], any_of(questions, 1))
    must_know = {objective.id for objective in module.must_know}
    others = tuple(cell for cell in cells if cell.objective_id not in must_know)
    wanted = min(rule.others_per_module, len(others))
    yield Part(others, Pool(tuple(in_cell(module.questions, cell) for cell in others), wanted))


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


def examination_outcome(
    result: SittingResult, form: Form, satisfactory: Sequence[bool] = ()
) -> bool | None:
    """Return whether an examination is passed; None while prepared questions have to be asked.

    What must be known is decided first, and not made up for by talking.  Near
    the cut two of the three spoken answers have to be satisfactory.  A must-know
    objective whose question was voided was met in its module's quiz and does not
    make anybody sit the whole examination again.
    """
    missed = any(o.must_know and o.asked and not o.met for o in result.objectives)
    if missed or not result.questions:
        return False
    if not near_the_cut(result, form):
        return result.reached_cut
    if len(satisfactory) < SPOKEN_QUESTIONS:
        return None
    return sum(satisfactory) >= SPOKEN_NEEDED
