"""Who answered which question right, wrong or never saw it: the table every item statistic reads.

Not presented and presented-but-blank are different things.  A question that was
not on a trainee's form is skipped; one that was left blank is wrong.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any, ClassVar

import numpy as np
from numpy.typing import NDArray

from academy.domain.sentences import TradeError

Row = Sequence[int | None]
Numbers = NDArray[np.float64]


@dataclass(eq=False)
class NobodyAnswered(TradeError):
    """There is not a single response."""

    template: ClassVar[str] = "there is no response: nobody was asked a question"


@dataclass(eq=False)
class RowsDiffer(TradeError):
    """Every row has one place for each question."""

    template: ClassVar[str] = (
        "person %(person)d has %(given)d responses and person 1 has %(expected)d: "
        "write null for a question that was not presented"
    )
    person: int
    given: int
    expected: int


@dataclass(frozen=True, slots=True, eq=False)
class Responses:
    """Responses as two sparse tables (rows × questions) and how many persons share each row.

    `presented` holds 1 where the question was asked, `right` 1 where it was
    answered right; both are compressed by rows.  `complete` says that every
    question was asked in every row.
    """

    right: Any
    presented: Any
    counts: Numbers
    complete: bool

    @property
    def persons(self) -> int:
        """How many persons answered."""
        return int(self.counts.sum())

    @property
    def items(self) -> int:
        """How many questions the table has."""
        return int(self.right.shape[1])

    @property
    def answered(self) -> Numbers:
        """How many persons were asked each question."""
        return np.asarray(self.presented.T @ self.counts, dtype=float)

    @property
    def answered_right(self) -> Numbers:
        """How many persons answered each question right."""
        return np.asarray(self.right.T @ self.counts, dtype=float)

    @property
    def score(self) -> Numbers:
        """The number of right answers in each row."""
        return np.asarray(self.right.sum(axis=1), dtype=float).ravel()

    def only(self, items: NDArray[np.bool_]) -> Responses:
        """Return the table of the chosen questions."""
        if items.all():
            return self
        return Responses(self.right[:, items], self.presented[:, items], self.counts, self.complete)


def responses_of(rows: Sequence[Row], counts: Sequence[int] | None = None) -> Responses:
    """Return the table of rows of 0, 1 and None (not presented), each shared by `counts` persons.

    Rows that are alike are kept once.

    Raises
    ------
    NobodyAnswered, RowsDiffer
    """
    together: Counter[tuple[int | None, ...]] = Counter()
    for person, (row, count) in enumerate(zip(rows, counts or [1] * len(rows), strict=True), 1):
        if len(row) != len(rows[0]):
            raise RowsDiffer(person, len(row), len(rows[0]))
        if count:
            together[tuple(row)] += count
    if not together:
        raise NobodyAnswered
    table = np.array(list(together), dtype=float)
    return responses_in(table, np.array(list(together.values()), dtype=float))


def responses_in(table: Numbers, counts: Numbers | None = None) -> Responses:
    """Return the table of an array of 0, 1 and NaN (not presented), persons × questions."""
    asked = ~np.isnan(table)
    person, item = np.nonzero(asked)
    return responses_at(person, item, table[asked] == 1, table.shape, counts)


def responses_at(
    person: NDArray[np.intp],
    item: NDArray[np.intp],
    right: NDArray[np.bool_],
    shape: tuple[int, ...],
    counts: Numbers | None = None,
) -> Responses:
    """Return the table from one entry for each question presented to a person.

    Raises
    ------
    NobodyAnswered
    """
    from scipy.sparse import csr_array

    if not len(person):
        raise NobodyAnswered
    ones = np.ones(len(person))
    presented = csr_array((ones, (person, item)), shape=shape)
    rights = csr_array((ones[right], (person[right], item[right])), shape=shape)
    complete = len(person) == shape[0] * shape[1]
    return Responses(rights, presented, np.ones(shape[0]) if counts is None else counts, complete)
