"""Rating questions again: each supervisor alone, then with the spread in sight.

A rating is how many of 100 barely competent trainees would have the question
right (W. H. Angoff 1971, see ``cut_score``).  The author of the course has given
one with every question; after a round the question's rating is the mean of the
author's and the supervisors', so that no pass mark leans on one person alone.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum
from typing import TYPE_CHECKING, ClassVar

from academy.domain.assessment.agreement_words import RELIABLE, TENTATIVE
from academy.domain.assessment.cut_score import cut_score
from academy.domain.assessment.forms import Form
from academy.domain.sentences import Sentence

if TYPE_CHECKING:
    import numpy as np

FEWEST_FOR_AGREEMENT = 5
# Ratings this far apart are worth talking about (common practice, no source).
WIDE_PERCENT = 20


class RoundStage(StrEnum):
    """Where a round of ratings stands."""

    ALONE = "each alone"
    TALK = "spread in sight"
    DONE = "taken over"


@dataclass(frozen=True, slots=True)
class Spread:
    """How far the supervisors' ratings of one question lie apart, in percent."""

    lowest: int
    highest: int
    mean: float

    @property
    def wide(self) -> bool:
        """Return whether the difference is worth talking about."""
        return self.highest - self.lowest >= WIDE_PERCENT


def spread_of(ratings: Sequence[int]) -> Spread | None:
    """Return the spread of ratings of one question; None where nobody rated it."""
    if not ratings:
        return None
    return Spread(min(ratings), max(ratings), sum(ratings) / len(ratings))


def rating_in_force(author_percent: int, supervisors: Sequence[int]) -> int:
    """Return the mean of the author's and the supervisors' ratings in whole percent, halves up."""
    total, raters = author_percent + sum(supervisors), 1 + len(supervisors)
    return (2 * total + raters) // (2 * raters)


@dataclass(frozen=True, slots=True)
class RatedQuestion:
    """The ratings of one wording that are in force, and the round they come from.

    ``supervisors`` maps a rater to a rating in percent.
    """

    round_id: str
    author_percent: int
    supervisors: Mapping[str, int]

    @property
    def percent(self) -> int:
        """Return the question's rating."""
        return rating_in_force(self.author_percent, tuple(self.supervisors.values()))


@dataclass(frozen=True, slots=True)
class CutRating:
    """How a drawn form's pass mark came about.

    ``re_rated`` of its questions had been rated again.  ``se_percent`` is the standard
    error of the cut over raters, in percent of a question, from those questions
    alone: of the others one rating exists, and nobody knows its error.
    """

    re_rated: int
    raters: int
    se_percent: int


def cut_rating(form: Form, rated: Mapping[str, RatedQuestion]) -> CutRating | None:
    """Return how the cut of a form came about; None where none of its questions was rated again.

    Round by round the standard error is that of the raters' totals over the
    form's questions (``cut_score``), the author one rater among them; whoever
    left one of these questions out does not count.  Rounds add as squares.
    """
    chosen = [
        rated[item.question.digest] for item in form.questions if item.question.digest in rated
    ]
    by_round: dict[str, list[RatedQuestion]] = {}
    for one in chosen:
        by_round.setdefault(one.round_id, []).append(one)
    if not chosen:
        return None
    variance, raters = 0.0, 0
    for questions in by_round.values():
        whole = set.intersection(*(set(one.supervisors) for one in questions))
        judges = [[one.author_percent for one in questions]]
        judges += [[one.supervisors[rater] for one in questions] for rater in sorted(whole)]
        variance += (cut_score(judges).se or 0.0) ** 2
        raters = max(raters, len(judges))
    return CutRating(len(chosen), raters, round(100 * math.sqrt(variance)))


@dataclass(frozen=True, slots=True)
class OneRater(Sentence):
    """A shop with one supervisor."""

    template: ClassVar[str] = (
        "One supervisor rated, on average %(apart)d of 100 away from the author. From one rater nobody"
        " can say how far another would differ: the pass mark is the mean of two people's judgement."
    )
    apart: int


@dataclass(frozen=True, slots=True)
class TooFewRated(Sentence):
    """Not enough questions to speak of agreement."""

    template: ClassVar[str] = (
        "Two raters differ by %(apart)d of 100 on average. So few questions were rated by two people"
        " (%(questions)d) that nothing more can be said of how far they agree."
    )
    apart: int
    questions: int


@dataclass(frozen=True, slots=True)
class RatersAgree(Sentence):
    """Alpha of 0.8 and more."""

    template: ClassVar[str] = (
        "The raters agree well on which questions are hard: two of them differ by %(apart)d of 100"
        " on average."
    )
    apart: int


@dataclass(frozen=True, slots=True)
class RatersAgreeRoughly(Sentence):
    """Alpha of 0.667 and more."""

    template: ClassVar[str] = (
        "The raters agree roughly on which questions are hard: two of them differ by %(apart)d of 100"
        " on average. Talk about the questions where they are furthest apart."
    )
    apart: int


@dataclass(frozen=True, slots=True)
class RatersDiffer(Sentence):
    """Alpha below 0.667."""

    template: ClassVar[str] = (
        "The raters do not agree on which questions are hard: two of them differ by %(apart)d of 100"
        " on average. Say first whom you call barely competent, then rate again."
    )
    apart: int


@dataclass(frozen=True, slots=True)
class NobodyRated(Sentence):
    """No rating was given."""

    template: ClassVar[str] = "Nobody has rated; the author's ratings stay."


@dataclass(frozen=True, slots=True)
class RaterAgreement:
    """The sentence a page shows, and Krippendorff's alpha on the interval scale where it exists."""

    says: Sentence
    alpha: float | None


def rater_agreement(
    ratings: Mapping[str, Mapping[str, int]], author: Mapping[str, int]
) -> RaterAgreement:
    """Return how far supervisors agree.

    Parameters
    ----------
    ratings
        for each rater the rating of each question rated
    author
        the author's rating of each question
    """
    import numpy as np

    from academy.domain.assessment.rater_alpha import Scale, krippendorff_alpha

    raters = {rater: given for rater, given in ratings.items() if given}
    if not raters:
        return RaterAgreement(NobodyRated(), None)
    if len(raters) == 1:
        (given,) = raters.values()
        apart = [abs(percent - author[question]) for question, percent in given.items()]
        return RaterAgreement(OneRater(round(sum(apart) / len(apart))), None)
    questions = sorted({question for given in raters.values() for question in given})
    table = np.array([[given.get(q, np.nan) for q in questions] for given in raters.values()])
    twice = int(((~np.isnan(table)).sum(axis=0) > 1).sum())
    if not twice:
        return RaterAgreement(TooFewRated(0, 0), None)
    apart_by = round(_mean_difference(table))
    if twice < FEWEST_FOR_AGREEMENT:
        return RaterAgreement(TooFewRated(apart_by, twice), None)
    alpha = krippendorff_alpha(table, Scale.INTERVAL).alpha
    return RaterAgreement(_in_words(alpha, apart_by), alpha)


def _in_words(alpha: float | None, apart: int) -> Sentence:
    if alpha is None or alpha >= RELIABLE:
        return RatersAgree(apart)
    return RatersAgreeRoughly(apart) if alpha >= TENTATIVE else RatersDiffer(apart)


def _mean_difference(table: np.ndarray) -> float:
    """Return the mean distance of two raters on a question both rated."""
    import numpy as np

    differences = np.abs(table[:, None, :] - table[None, :, :])
    pairs = np.triu_indices(len(table), k=1)
    return float(np.nanmean(differences[pairs]))
