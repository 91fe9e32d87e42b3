"""A number known from outside the project: what it is, where it stands, how it is known."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Literal

import pytest

Known = Literal[
    "read",  # seen on a page of the source
    "read, recomputed",  # the rule was read, the number follows from it
    "computed by two routes",  # the formula and independent code agree
    "computed",  # follows from the formula
    "from memory",  # of the named work; the page was not seen
    "common practice, no source",
]


@dataclass(frozen=True, slots=True)
class Case:
    """``compute()`` has to agree with ``expected`` to the larger of the two tolerances."""

    name: str
    compute: Callable[[], float]
    expected: float
    source: str
    known: Known
    relative: float = 1e-9
    absolute: float = 0.0

    def check(self) -> None:
        """Fail unless the project's number is the expected one."""
        close = pytest.approx(self.expected, rel=self.relative, abs=self.absolute)
        assert self.compute() == close, f"{self.name}: {self.source} ({self.known})"


def each(cases: Sequence[Case]) -> pytest.MarkDecorator:
    """Run a test once for each case, under the case's name."""
    return pytest.mark.parametrize("case", cases, ids=[case.name for case in cases])
