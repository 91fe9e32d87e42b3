"""Whether a module's questions can fill the forms its blueprint describes."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from academy.domain.curriculum.course import Module
from academy.domain.curriculum.findings import Finding, Subject, error, warning
from academy.domain.curriculum.kinds import Level
from academy.domain.curriculum.questions import Question


def feasibility_findings(module: Module) -> Iterator[Finding]:
    """Yield every cell of the blueprint that the questions cannot fill.

    A must-know objective is on every form and needs one question more than a
    form carries: somebody who misses it is asked once more, with another one.
    """
    for objective in module.objectives:
        subject = Subject("blueprint", objective.id)
        asked = _asked_on_a_form(module, objective.id)
        if not asked and objective.must_know:
            yield error(
                subject,
                "the must-know objective %(id)s is not on every form; "
                "the blueprint asks no question of it",
                id=objective.id,
            )
        elif not asked:
            yield warning(subject, "the blueprint asks no question of %(id)s", id=objective.id)
        yield from _short_cells(module, objective.id)
        if asked and objective.must_know:
            yield from _no_spare(module, objective.id, asked)


def largest_drawable(questions: Sequence[Question]) -> int:
    """Return how many of these questions one form can carry together.

    Questions that are kept apart never meet on a form.  The largest such set
    is found exactly; a cell holds a dozen questions at most.
    """
    if not questions:
        return 0
    first, rest = questions[0], list(questions[1:])
    free = [other for other in rest if not _apart(first, other)]
    with_first = 1 + largest_drawable(free)
    return with_first if len(free) == len(rest) else max(with_first, largest_drawable(rest))


def _apart(one: Question, other: Question) -> bool:
    return other.id in one.apart_from or one.id in other.apart_from


def _asked_on_a_form(module: Module, objective_id: str) -> int:
    cells = module.blueprint.cells
    return sum(cell.questions for cell in cells if cell.objective_id == objective_id)


def _of(module: Module, objective_id: str, level: Level) -> list[Question]:
    return [
        question
        for question in module.questions
        if question.objective_id == objective_id and question.level is level
    ]


def _short_cells(module: Module, objective_id: str) -> Iterator[Finding]:
    for cell in module.blueprint.cells:
        if cell.objective_id != objective_id:
            continue
        own = _of(module, objective_id, cell.level)
        there = largest_drawable(own)
        sure = largest_drawable(_never_given_away(module, own))
        subject = Subject("blueprint", objective_id, cell.level.value)
        asked = {"wanted": cell.questions, "id": objective_id, "level": cell.level.value}
        if there < cell.questions:
            yield error(
                subject,
                "a form carries %(wanted)s of %(id)s at %(level)s; %(there)s can be drawn together",
                there=there,
                **asked,
            )
        elif sure < cell.questions:
            yield error(
                subject,
                "a form carries %(wanted)s of %(id)s at %(level)s; questions of other cells are "
                "kept apart from them, and only %(sure)s can be drawn whatever else it carries",
                sure=sure,
                **asked,
            )


def _never_given_away(module: Module, own: Sequence[Question]) -> list[Question]:
    """Return the questions of a cell that none of another cell on the form is kept apart from."""
    asked = {(cell.objective_id, cell.level) for cell in module.blueprint.cells}
    here = {question.id for question in own}
    others = [
        question
        for question in module.questions
        if (question.objective_id, question.level) in asked and question.id not in here
    ]
    return [q for q in own if not any(_apart(q, other) for other in others)]


def _no_spare(module: Module, objective_id: str, asked: int) -> Iterator[Finding]:
    there = sum(question.objective_id == objective_id for question in module.questions)
    if there == asked:
        yield error(
            Subject("blueprint", objective_id),
            "the must-know objective %(id)s has %(there)s questions and a form carries "
            "them all; one more is needed to ask again",
            id=objective_id,
            there=there,
        )
