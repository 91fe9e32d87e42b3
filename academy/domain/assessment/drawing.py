"""Drawing a form: what a blueprint asks, and what was missed asked again."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from itertools import product

from academy.domain.assessment.forms import Form, laid_out
from academy.domain.assessment.least_seen import (
    NEVER_SEEN,
    Chooser,
    Pool,
    Seen,
    any_of,
    least_seen_choice,
)
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
class Part:
    """One part of a form: the cells it is drawn from, each with its questions, and how many it gives.

    Where there are several cells each gives one question at most.
    """

    cells: tuple[BlueprintCell, ...]
    pool: Pool


def draw_form(
    bank: Sequence[Question],
    blueprint: Blueprint,
    chance: Chooser,
    seen: Seen = NEVER_SEEN,
) -> Form:
    """Draw a form that meets the blueprint exactly.

    Of all forms that do, one is drawn that shares least with this person's last
    form, and whose questions were then seen least in all, ties by chance.  A
    question is never drawn beside one that gives it away.

    Raises
    ------
    TooFewQuestions
        Names the objective and level that cannot be filled, beside narrower ones.
    """
    parts = [Part((cell,), any_of(in_cell(bank, cell), cell.questions)) for cell in blueprint.cells]
    drawn = [question for given in chosen(parts, chance, seen) for question in given]
    chance.shuffle(drawn)
    return Form(tuple(laid_out(question, chance) for question in drawn))


def draw_again(
    bank: Sequence[Question],
    objective_ids: Iterable[str],
    chance: Chooser,
    seen: Seen = NEVER_SEEN,
    each: int = 2,
) -> Form:
    """Draw a form that asks missed must-know objectives again in other words.

    Each objective gets ``each`` of its questions, so a question of the missed
    form comes back only when nothing else is left.  Fewer are asked where they
    would give each other away, one at the least.

    Raises
    ------
    TooFewQuestions
        Names an objective of which nothing can be asked.
    """
    banks = {name: [q for q in bank if q.objective_id == name] for name in objective_ids}
    for lengths in _lengths([min(each, len(questions)) for questions in banks.values()]):
        pools = [any_of(of, n) for of, n in zip(banks.values(), lengths, strict=True)]
        given = least_seen_choice(pools, chance, seen)
        if given is not None:
            drawn = [question for questions in given for question in questions]
            return Form(tuple(laid_out(question, chance) for question in drawn))
    empty = next((name for name, questions in banks.items() if not questions), next(iter(banks)))
    raise TooFewQuestions(empty, "any", 1, 0)


def draw_in_turn(
    bank: Sequence[Question],
    objective_ids: Iterable[str],
    wanted: int,
    chance: Chooser,
    seen: Seen = NEVER_SEEN,
) -> Form:
    """Draw one question of each objective in their order, up to so many in all.

    An objective is passed over where nothing of it can stand beside the others.
    """
    pools: list[Pool] = []
    given: list[list[Question]] = []
    for objective_id in objective_ids:
        if len(pools) == wanted:
            break
        more = [*pools, any_of((q for q in bank if q.objective_id == objective_id), 1)]
        found = least_seen_choice(more, chance, seen)
        if found is not None:
            pools, given = more, found
    return Form(tuple(laid_out(question, chance) for [question] in given))


def chosen(parts: Sequence[Part], chance: Chooser, seen: Seen) -> list[list[Question]]:
    """Return what each part gives; see ``least_seen_choice``.

    Raises
    ------
    TooFewQuestions
        Names the first objective, narrowest part first, that lacks questions.
    """
    given = least_seen_choice([part.pool for part in parts], chance, seen)
    if given is None:
        raise _lacking(sorted(parts, key=_to_spare), chance)
    return given


def in_cell(bank: Iterable[Question], cell: BlueprintCell) -> tuple[Question, ...]:
    """Return the questions that may stand in a cell."""
    return tuple(q for q in bank if q.objective_id == cell.objective_id and q.level is cell.level)


def _lengths(most: Sequence[int]) -> list[tuple[int, ...]]:
    """Return how many questions each objective may get, one at the least, the longest forms first."""
    ranges = [range(max(1, length), 0, -1) for length in most]
    return sorted(product(*ranges), key=sum, reverse=True)


def _to_spare(part: Part) -> int:
    return sum(1 for one in part.pool.alternatives if one) - part.pool.wanted


def _lacking(parts: Sequence[Part], chance: Chooser) -> TooFewQuestions:
    """Return the first part that cannot be filled beside those before it."""
    pools = [part.pool for part in parts]
    number = next(n for n in range(len(parts)) if not _filled(pools[: n + 1], chance))
    before, part = pools[:number], parts[number]
    if len(part.cells) > 1:
        return _lacking_cell(before, part, chance)
    [cell] = part.cells
    available = max(
        fewer
        for fewer in range(part.pool.wanted)
        if _filled([*before, replace(part.pool, wanted=fewer)], chance)
    )
    return TooFewQuestions(cell.objective_id, cell.level, part.pool.wanted, available)


def _lacking_cell(before: Sequence[Pool], part: Part, chance: Chooser) -> TooFewQuestions:
    """Return the first of several cells that gives nothing beside those that do."""
    each = [any_of(questions, 1) for questions in part.pool.alternatives]
    cell = next(
        cell
        for number, cell in enumerate(part.cells, 1)
        if not _filled([*before, *each[:number]], chance)
    )
    return TooFewQuestions(cell.objective_id, cell.level, 1, 0)


def _filled(pools: Sequence[Pool], chance: Chooser) -> bool:
    return least_seen_choice(pools, chance, NEVER_SEEN) is not None
