"""Drawing the form of one sitting from a module's questions."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

from academy.domain.assessment.least_seen import (
    Chooser,
    Pool,
    give_each_other_away,
    least_seen_choice,
    least_seen_first,
)
from academy.domain.curriculum.feasibility import largest_drawable
from academy.domain.curriculum.kinds import Interaction
from academy.domain.curriculum.questions import Blueprint, BlueprintCell, Question
from academy.domain.sentences import TradeError


@dataclass(eq=False)
class TooFewQuestions(TradeError):
    """The bank cannot fill one cell of the blueprint."""

    template = (
        "objective %(objective_id)s has %(available)d questions to draw at level"
        " '%(level)s' and the form needs %(needed)d"
    )
    objective_id: str
    level: str
    needed: int
    available: int


@dataclass(frozen=True, slots=True)
class FormQuestion:
    """One question on a form and the order in which its options are shown."""

    question: Question
    option_order: tuple[int, ...]
    partner_order: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True)
class Form:
    """The questions of one sitting, in the order asked."""

    questions: tuple[FormQuestion, ...]

    @property
    def cut_points(self) -> int:
        """Return the form's cut score in points of one percent of a question.

        It is the sum of the questions' minimum-competence ratings (Angoff 1971),
        kept as integers so that no rounding can move the pass mark.
        """
        return sum(item.question.rating_percent for item in self.questions)

    @property
    def full_points(self) -> int:
        """Return the most that can be scored, 100 for each question."""
        return 100 * len(self.questions)

    @property
    def question_ids(self) -> tuple[str, ...]:
        """Return the ids in the order asked."""
        return tuple(item.question.id for item in self.questions)

    def find(self, question_id: str) -> FormQuestion | None:
        """Return the question of that id on this form, or None."""
        return next((item for item in self.questions if item.question.id == question_id), None)


def draw_form(
    bank: Sequence[Question],
    blueprint: Blueprint,
    chance: Chooser,
    seen: Mapping[str, int] | None = None,
) -> Form:
    """Draw a form that meets the blueprint exactly.

    Of all forms that do, one is drawn whose questions this trainee has seen least
    in all, ties by chance.  A question is never drawn beside one that gives it away.

    Raises
    ------
    TooFewQuestions
        Names the objective and level that cannot be filled, beside narrower ones.
    """
    cells = sorted(blueprint.cells, key=lambda cell: len(_in_cell(bank, cell)) - cell.questions)
    times = seen or {}
    pools = [
        Pool(tuple(least_seen_first(_in_cell(bank, cell), chance, times)), cell.questions)
        for cell in cells
    ]
    drawn = least_seen_choice(pools, chance, times)
    if drawn is None:
        raise _lacking(cells, pools, chance)
    chance.shuffle(drawn)
    return Form(tuple(laid_out(question, chance) for question in drawn))


def draw_again(
    bank: Sequence[Question],
    objective_ids: Iterable[str],
    chance: Chooser,
    seen: Mapping[str, int],
    each: int = 2,
) -> Form:
    """Draw a form that asks missed must-know objectives again in other words.

    Each objective gets ``each`` of its questions, those seen least first, so a
    question of the missed form comes back only when nothing else is left.
    Fewer are asked where they would give each other away, one at the least.
    """
    drawn: list[Question] = []
    for objective_id in objective_ids:
        of_objective = [q for q in bank if q.objective_id == objective_id]
        if not of_objective:
            raise TooFewQuestions(objective_id, "any", each, 0)
        ordered = least_seen_first(of_objective, chance, seen)
        drawn += _together(_beside(ordered, drawn) or ordered[:1], each)
    return Form(tuple(laid_out(question, chance) for question in drawn))


def laid_out(question: Question, chance: Chooser) -> FormQuestion:
    """Return the question with its options in the order they will be shown."""
    options = [option.number for option in question.options]
    partners = [partner.number for partner in question.partners]
    if question.shuffle and question.interaction is not Interaction.SCENARIO:
        chance.shuffle(options)
    chance.shuffle(partners)
    return FormQuestion(question, tuple(options), tuple(partners))


def _in_cell(bank: Sequence[Question], cell: BlueprintCell) -> list[Question]:
    return [q for q in bank if q.objective_id == cell.objective_id and q.level is cell.level]


def _lacking(
    cells: Sequence[BlueprintCell], pools: Sequence[Pool], chance: Chooser
) -> TooFewQuestions:
    """Return the first cell, narrowest first, that cannot be filled beside those before it."""
    filled = next(n for n in range(len(pools)) if not _filled(pools[: n + 1], chance))
    cell, pool = cells[filled], pools[filled]
    available = max(
        fewer
        for fewer in range(cell.questions)
        if _filled([*pools[:filled], replace(pool, wanted=fewer)], chance)
    )
    return TooFewQuestions(cell.objective_id, cell.level, cell.questions, available)


def _filled(pools: Sequence[Pool], chance: Chooser) -> bool:
    return least_seen_choice(pools, chance, {}) is not None


def _beside(questions: Sequence[Question], drawn: Sequence[Question]) -> list[Question]:
    """Return the questions that none of those drawn gives away."""
    return [q for q in questions if not any(give_each_other_away(q, other) for other in drawn)]


def _together(questions: Sequence[Question], wanted: int) -> list[Question]:
    """Return as many of the questions as can stand together, up to ``wanted``, first ones first.

    One that shuts out so many others that the form would stay short is passed over.
    """
    reachable = min(wanted, largest_drawable(questions))
    chosen: list[Question] = []
    left = list(questions)
    while len(chosen) < reachable:
        question = left.pop(0)
        beside = _beside(left, [question])
        if len(chosen) + 1 + largest_drawable(beside) >= reachable:
            chosen.append(question)
            left = beside
    return chosen
