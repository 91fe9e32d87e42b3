"""What the answers say about each wording of each question: shares, correlations, options, difficulty.

Only answers that count (``fair_evidence``) come in.  A question is right when it
earned all of its marks; partly right is not right here.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from academy.domain.assessment.item_statistics import item_statistics
from academy.domain.assessment.responses import Numbers, Responses, responses_at
from academy.domain.assessment.wording_evidence import Correlation, Evidence, PartTaken

Places = NDArray[np.intp]
FEWEST_FOR_A_CORRELATION = 4


@dataclass(frozen=True, slots=True, eq=False)
class CountedAnswers:
    """The answers that count, one entry each: whose sitting, which wording, whether right, its parts.

    ``sitting`` and ``wording`` are places in two lists of the caller's;
    ``parts`` holds the names of the parts taken, none for a blank.
    """

    sitting: Places
    wording: Places
    right: NDArray[np.bool_]
    parts: Sequence[frozenset[str]]
    sittings: int
    wordings: int

    def table(self) -> Responses:
        """Return the answers as sittings × wordings.

        Raises
        ------
        NobodyAnswered
        """
        shape = (self.sittings, self.wordings)
        return responses_at(self.sitting, self.wording, self.right, shape)

    def rest_shares(self) -> Numbers:
        """Return for each answer the share right of the sitting's other counted answers; NaN for none."""
        right = np.bincount(self.sitting, weights=self.right, minlength=self.sittings)
        others = np.bincount(self.sitting, minlength=self.sittings)[self.sitting] - 1
        rest = right[self.sitting] - self.right
        return np.where(others > 0, rest / np.maximum(others, 1), np.nan)


def fisher_interval(value: float, persons: int) -> Correlation:
    """Return a correlation with its interval tanh(atanh r ± 1.96/√(n − 3)).

    R. A. Fisher (1921), Metron 1, 3 (page from memory).  With a right-or-wrong
    question it is a rough one; it is used to hold back, not to decide.
    """
    if persons < FEWEST_FOR_A_CORRELATION:
        return Correlation(value, -1.0, 1.0)
    middle, half = math.atanh(min(max(value, -0.999999), 0.999999)), 1.96 / math.sqrt(persons - 3)
    return Correlation(value, math.tanh(middle - half), math.tanh(middle + half))


def evidence_of(
    answers: CountedAnswers, known_parts: Sequence[Mapping[str, bool]]
) -> tuple[Evidence, ...]:
    """Return what the answers say about each wording.

    Parameters
    ----------
    known_parts
        for each wording every part an answer can hold, and whether it is right;
        parts that only answers show (numbers typed) are added as wrong ones

    Raises
    ------
    NobodyAnswered
    """
    found = item_statistics(answers.table())
    rest = answers.rest_shares()
    everybody = _spread(answers.wording, rest, answers.wordings)
    blank = np.bincount(
        answers.wording, weights=[not taken for taken in answers.parts], minlength=answers.wordings
    )
    right = np.bincount(answers.wording, weights=answers.right, minlength=answers.wordings)
    parts = _parts(answers, rest, known_parts)
    return tuple(
        Evidence(
            answered=answered,
            right=int(right[number]),
            blank=int(blank[number]),
            compared=everybody.persons(number),
            item_rest=None if r is None else fisher_interval(r, answered),
            parts=parts[number],
            rest_mean=everybody.mean(number),
            rest_sd=everybody.sd(number),
        )
        for number, (answered, r) in enumerate(zip(found.answered, found.item_rest, strict=True))
    )


@dataclass(frozen=True, slots=True, eq=False)
class _Spread:
    """Count, sum and sum of squares of the rest shares in each of several groups."""

    taken: Numbers
    compared: Numbers
    total: Numbers
    squares: Numbers

    def persons(self, group: int) -> int:
        return int(self.compared[group])

    def mean(self, group: int) -> float | None:
        n = self.compared[group]
        return float(self.total[group] / n) if n else None

    def sd(self, group: int) -> float | None:
        n = self.compared[group]
        if n < 2:
            return None
        spread = self.squares[group] - self.total[group] ** 2 / n
        return math.sqrt(max(0.0, float(spread)) / (n - 1))


def _spread(group: Places, rest: Numbers, groups: int) -> _Spread:
    used = ~np.isnan(rest)
    of, values = group[used], rest[used]

    def total(places: Places, weights: Numbers) -> Numbers:
        return np.asarray(np.bincount(places, weights, minlength=groups), dtype=np.float64)

    return _Spread(
        total(group, np.ones(len(group))),
        total(of, np.ones(len(of))),
        total(of, values),
        total(of, values**2),
    )


def _parts(
    answers: CountedAnswers, rest: Numbers, known_parts: Sequence[Mapping[str, bool]]
) -> tuple[tuple[PartTaken, ...], ...]:
    places = {
        (wording, name): place
        for place, (wording, name) in enumerate(
            (wording, name) for wording, known in enumerate(known_parts) for name in known
        )
    }
    group: list[int] = []
    answer: list[int] = []
    for number, (wording, taken) in enumerate(
        zip(answers.wording.tolist(), answers.parts, strict=True)
    ):
        for name in taken:
            group.append(places.setdefault((wording, name), len(places)))
            answer.append(number)
    spread = _spread(
        np.array(group, dtype=np.intp), rest[np.array(answer, dtype=np.intp)], len(places)
    )
    listed: list[list[PartTaken]] = [[] for _ in known_parts]
    for (wording, name), place in places.items():
        right = known_parts[wording].get(name, False)
        listed[wording].append(
            PartTaken(
                name,
                right,
                int(spread.taken[place]),
                spread.persons(place),
                spread.mean(place),
                spread.sd(place),
            )
        )
    return tuple(tuple(parts) for parts in listed)
