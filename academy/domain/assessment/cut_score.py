"""The pass mark of a drawn form, from what judges expect of a just-competent person.

Each judge says for each question how many of 100 just-competent trainees get
it right.  The cut is the sum over the form's questions of the judges' mean
(W. H. Angoff 1971, in Thorndike (ed.), Educational Measurement, 2nd ed., p. 515;
page from memory).  Ratings are whole percent and every comparison is between
integers: a binary sum a hair above 21 would cost somebody a point.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import ClassVar

from academy.domain.metrology.exact import exact_all, square_root, squared_deviations
from academy.domain.sentences import TradeError


@dataclass(eq=False)
class RatingsIncomplete(TradeError):
    """Every judge rates every question."""

    template: ClassVar[str] = (
        "every judge rates every question: judge %(judge)d rated %(rated)d, judge 1 rated %(expected)d"
    )
    judge: int
    rated: int
    expected: int


@dataclass(eq=False)
class NoRatings(TradeError):
    """A cut needs at least one judge and one question."""

    template: ClassVar[str] = "a cut score needs at least one judge and one question"


@dataclass(frozen=True, slots=True)
class CutScore:
    """A form's cut in questions.

    `total_percent` is the sum of all ratings on the form and `judges` their
    number, so that cut = total_percent/(100·judges) stays exact.  `se` is
    None with a single judge.
    """

    total_percent: int
    judges: int
    questions: int
    se: float | None

    @property
    def cut(self) -> float:
        """The cut in questions; compare with `passes`, not with this."""
        return float(Fraction(self.total_percent, 100 * self.judges))

    @property
    def points_needed(self) -> int:
        """The fewest right answers that pass: the cut rounded up, never down."""
        return -(-self.total_percent // (100 * self.judges))

    def passes(self, right: int) -> bool:
        """Say whether so many right answers reach the cut; equal passes."""
        return 100 * self.judges * right >= self.total_percent


def cut_score(ratings: Sequence[Sequence[int]], form: Sequence[int] | None = None) -> CutScore:
    """Return the cut of a form and its standard error over judges.

    Parameters
    ----------
    ratings : shape (judges, questions)
        whole percent, 0 to 100
    form
        indices from 0 of the questions on the form; all where absent

    Notes
    -----
    The standard error is sd(judge totals)/√judges with the totals taken on
    that form, not over the bank: a judge who is strict on other questions does
    not widen this form's error.

    Raises
    ------
    NoRatings, RatingsIncomplete
    """
    _check(ratings)
    chosen = range(len(ratings[0])) if form is None else form
    if not chosen:
        raise NoRatings
    totals = [sum(row[question] for question in chosen) for row in ratings]
    return CutScore(
        total_percent=sum(totals),
        judges=len(totals),
        questions=len(chosen),
        se=_standard_error(totals),
    )


def _check(ratings: Sequence[Sequence[int]]) -> None:
    if not ratings or not ratings[0]:
        raise NoRatings
    for number, row in enumerate(ratings, start=1):
        if len(row) != len(ratings[0]):
            raise RatingsIncomplete(number, len(row), len(ratings[0]))


def _standard_error(totals: list[int]) -> float | None:
    if len(totals) < 2:
        return None
    spread = squared_deviations(exact_all(totals)) / (len(totals) - 1)
    return square_root(spread / len(totals) / 100**2)
