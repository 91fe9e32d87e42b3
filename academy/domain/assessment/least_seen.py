"""Which questions fill a blueprint: every cell in full, none beside what gives it away, least seen."""

from __future__ import annotations

from collections.abc import Collection, Mapping, MutableSequence, Sequence
from dataclasses import dataclass
from heapq import heappop, heappush
from itertools import combinations, count
from typing import Any, Protocol

from academy.domain.curriculum.questions import Question


class Chooser(Protocol):
    """The part of a random generator that drawing needs; ``random.Random`` has it."""

    def random(self) -> float:
        """Return a number in [0, 1)."""

    def shuffle(self, x: MutableSequence[Any]) -> None:
        """Reorder a list in place."""


@dataclass(frozen=True, slots=True)
class Pool:
    """The questions that may stand in one cell, in the order preferred, and how many are wanted."""

    questions: tuple[Question, ...]
    wanted: int


def give_each_other_away(one: Question, other: Question) -> bool:
    """Return whether either question names the other as giving it away."""
    return other.id in one.apart_from or one.id in other.apart_from


def least_seen_first(
    questions: Sequence[Question], chance: Chooser, seen: Mapping[str, int]
) -> list[Question]:
    """Return the questions seen least first, ties by chance."""
    keyed = [(seen.get(question.id, 0), chance.random(), question) for question in questions]
    return [question for _, _, question in sorted(keyed, key=lambda row: row[:2])]


def least_seen_choice(
    pools: Sequence[Pool], chance: Chooser, seen: Mapping[str, int]
) -> list[Question] | None:
    """Return the choice that was seen least in all, or None where the pools cannot be filled.

    Each pool first gives the questions at its front.  Where two of those give
    each other away, one of them is left out, and both ways are followed, the
    less seen first; a choice without such a pair is then the least seen there
    is, since leaving out never makes one less seen (best-first branch and bound,
    Land and Doig 1960).
    """
    order = count()
    followed: set[frozenset[str]] = set()
    ways: list[tuple[int, int, int, frozenset[str], list[Question]]] = []

    def follow(left_out: frozenset[str]) -> None:
        choice = _front(pools, left_out)
        if choice is not None and left_out not in followed:
            followed.add(left_out)
            times = sum(seen.get(question.id, 0) for question in choice)
            heappush(ways, (times, -len(left_out), next(order), left_out, choice))

    follow(frozenset())
    while ways:
        *_, left_out, choice = heappop(ways)
        pairs = [pair for pair in combinations(choice, 2) if give_each_other_away(*pair)]
        if not pairs:
            return choice
        either = list(pairs[0])
        chance.shuffle(either)
        for question in either:
            follow(left_out | {question.id})
    return None


def _front(pools: Sequence[Pool], left_out: Collection[str]) -> list[Question] | None:
    choice: list[Question] = []
    for pool in pools:
        free = [question for question in pool.questions if question.id not in left_out]
        if len(free) < pool.wanted:
            return None
        choice += free[: pool.wanted]
    return choice
