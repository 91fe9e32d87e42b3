"""Which questions fill a form: every part in full, none beside what gives it away, least seen."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping, MutableSequence, Sequence
from dataclasses import dataclass, field
from heapq import heappop, heappush
from itertools import combinations, count
from types import MappingProxyType
from typing import Any, Protocol

from academy.domain.curriculum.questions import Question

Weight = tuple[int, int, int]


class Chooser(Protocol):
    """The part of a random generator that drawing needs; ``random.Random`` has it."""

    def random(self) -> float:
        """Return a number in [0, 1)."""

    def shuffle(self, x: MutableSequence[Any]) -> None:
        """Reorder a list in place."""


@dataclass(frozen=True, slots=True)
class Seen:
    """What a person has seen of the questions, by their ids.

    ``times`` says how many forms held each, ``last_form`` what the form before
    this one held.  ``unsuited`` are drawn only where nothing else is left, as a
    situation that unfolds is on paper.
    """

    times: Mapping[str, int] = field(default_factory=lambda: MappingProxyType({}))
    last_form: frozenset[str] = frozenset()
    unsuited: frozenset[str] = frozenset()

    def weight(self, question: Question) -> Weight:
        """Return how much speaks against a question, the gravest first."""
        name = question.id
        return (name in self.unsuited, name in self.last_form, self.times.get(name, 0))


NEVER_SEEN = Seen()


@dataclass(frozen=True, slots=True)
class Pool:
    """The questions that may stand in one part of a form, and how many are wanted.

    Each of the alternatives gives one of its questions at most.
    """

    alternatives: tuple[tuple[Question, ...], ...]
    wanted: int

    @property
    def questions(self) -> tuple[Question, ...]:
        """Return the questions of all alternatives."""
        return tuple(question for one in self.alternatives for question in one)


def any_of(questions: Iterable[Question], wanted: int) -> Pool:
    """Return a pool from which any of the questions may be drawn."""
    return Pool(tuple((question,) for question in questions), wanted)


def give_each_other_away(one: Question, other: Question) -> bool:
    """Return whether either question names the other as giving it away."""
    return other.id in one.apart_from or one.id in other.apart_from


def least_seen_first(questions: Iterable[Question], chance: Chooser, seen: Seen) -> dict[str, int]:
    """Return the place of each question, those that least speaks against first, ties by chance."""
    keyed = [(seen.weight(question), chance.random(), question.id) for question in questions]
    return {name: place for place, (_, _, name) in enumerate(sorted(keyed))}


def least_seen_choice(
    pools: Sequence[Pool], chance: Chooser, seen: Seen
) -> list[list[Question]] | None:
    """Return what each pool gives, or None where the pools cannot all be filled.

    Of all choices without two questions that give each other away, it is one
    with the fewest unsuited questions, then the fewest of the last form, then
    the fewest times seen in all; ties by chance.
    """
    place = least_seen_first([q for pool in pools for q in pool.questions], chance, seen)
    chosen: dict[int, list[Question]] = {}
    for linked in _linked(pools):
        given = _cheapest([pools[number] for number in linked], place, chance, seen)
        if given is None:
            return None
        chosen |= dict(zip(linked, given, strict=True))
    return [chosen[number] for number in range(len(pools))]


def _linked(pools: Sequence[Pool]) -> Iterator[list[int]]:
    """Yield the pools in groups between which no question gives another away."""
    left = list(range(len(pools)))
    while left:
        group, reached = [], [left.pop(0)]
        while reached:
            here = reached.pop()
            group.append(here)
            beside = [n for n in left if _touch(pools[here], pools[n])]
            reached += beside
            left = [n for n in left if n not in beside]
        yield sorted(group)


def _touch(one: Pool, other: Pool) -> bool:
    names, others = ({q.id for q in pool.questions} for pool in (one, other))
    return any(not names.isdisjoint(q.apart_from) for q in other.questions) or any(
        not others.isdisjoint(q.apart_from) for q in one.questions
    )


def _cheapest(
    pools: Sequence[Pool], place: Mapping[str, int], chance: Chooser, seen: Seen
) -> list[list[Question]] | None:
    """Return the lightest choice from pools that touch one another.

    Each pool first gives its lightest questions.  Where two of those give each
    other away, one of them is left out, and both ways are followed, the lighter
    first; a choice without such a pair is then the lightest there is, since
    leaving out never makes one lighter (best-first branch and bound, Land and
    Doig 1960).
    """
    order = count()
    followed: set[frozenset[str]] = set()
    ways: list[tuple[Weight, int, int, frozenset[str], list[list[Question]]]] = []

    def follow(left_out: frozenset[str]) -> None:
        choice = _front(pools, place, left_out)
        if choice is not None and left_out not in followed:
            followed.add(left_out)
            heappush(ways, (_weight(choice, seen), -len(left_out), next(order), left_out, choice))

    follow(frozenset())
    while ways:
        *_, left_out, choice = heappop(ways)
        drawn = [question for given in choice for question in given]
        pair = next((p for p in combinations(drawn, 2) if give_each_other_away(*p)), None)
        if pair is None:
            return choice
        either = list(pair)
        chance.shuffle(either)
        for question in either:
            follow(left_out | {question.id})
    return None


def _front(
    pools: Sequence[Pool], place: Mapping[str, int], left_out: Collection[str]
) -> list[list[Question]] | None:
    """Return the lightest questions of each pool, None where one falls short."""
    choice = []
    for pool in pools:
        free = ([q for q in one if q.id not in left_out] for one in pool.alternatives)
        firsts = [min(one, key=lambda q: place[q.id]) for one in free if one]
        if len(firsts) < pool.wanted:
            return None
        choice.append(sorted(firsts, key=lambda q: place[q.id])[: pool.wanted])
    return choice


def _weight(choice: Sequence[Sequence[Question]], seen: Seen) -> Weight:
    weights = [seen.weight(question) for given in choice for question in given]
    return (
        sum(unsuited for unsuited, _, _ in weights),
        sum(repeated for _, repeated, _ in weights),
        sum(times for _, _, times in weights),
    )
