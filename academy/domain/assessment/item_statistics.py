"""Classical statistics of questions: how many get them right, and whether the able ones do.

M. R. Novick, F. M. Lord (1968), Statistical Theories of Mental Test Scores,
ch. 15; L. J. Cronbach (1951), Psychometrika 16, 297; G. F. Kuder, M. W.
Richardson (1937), Psychometrika 2, 151 (pages from memory).
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import Enum

import numpy as np

from academy.domain.assessment.responses import Numbers, Responses

# A correlation of numbers that differ by rounding alone is noise.
NO_SPREAD = 1e-12


class WhyNoAlpha(Enum):
    """Why a coefficient of reliability does not exist for a table."""

    INCOMPLETE = "not everybody was asked the same questions"
    TOO_FEW = "at least two persons and two questions are needed"
    NO_SPREAD = "everybody has the same score"


@dataclass(frozen=True, slots=True)
class Reliability:
    """Spread of the scores, Cronbach's alpha (here KR-20) and the standard error of a score.

    `alpha_if_deleted` is None for a question without which no alpha exists.
    """

    mean: float
    sd: float
    alpha: float
    alpha_if_deleted: tuple[float | None, ...]

    @property
    def sem(self) -> float:
        """sd·√(1 − alpha): how far a score lies from the mean of many such forms."""
        return self.sd * math.sqrt(1 - self.alpha)


@dataclass(frozen=True, slots=True)
class ItemStatistics:
    """Per question; None where nobody was asked, or where nothing varies."""

    share_right: tuple[float | None, ...]
    item_rest: tuple[float | None, ...]
    answered: tuple[int, ...]
    reliability: Reliability | WhyNoAlpha


def item_statistics(responses: Responses) -> ItemStatistics:
    """Return each question's share right and item-rest correlation, and the form's reliability.

    The correlation is between a question and the share right of the others
    that person was asked, never with the question itself inside: that inflates
    it on short forms (0.36 in place of 0.11 for the first question of LSAT6).
    """
    answered, right = responses.answered, responses.answered_right
    return ItemStatistics(
        share_right=tuple(
            float(r / n) if n else None for r, n in zip(right, answered, strict=True)
        ),
        item_rest=_item_rests(responses),
        answered=tuple(int(n) for n in answered),
        reliability=_reliability(responses),
    )


def _item_rests(responses: Responses) -> tuple[float | None, ...]:
    """Return every item-rest correlation in one pass over the responses given."""
    met = (responses.presented + responses.right).tocoo()  # 1 asked and wrong, 2 right
    others = np.asarray(responses.presented.sum(axis=1), dtype=float).ravel()[met.row] - 1
    used = others > 0
    item, counts = met.col[used], responses.counts[met.row[used]]
    right = (met.data[used] > 1.5).astype(float)
    rest = (responses.score[met.row[used]] - right) / others[used]

    def total(values: Numbers) -> Numbers:
        summed = np.bincount(item, weights=counts * values, minlength=responses.items)
        return np.asarray(summed, dtype=np.float64)

    persons = total(np.ones(len(rest)))
    asked = np.maximum(persons, 1)
    right -= (total(right) / asked)[item]
    rest -= (total(rest) / asked)[item]
    size = np.sqrt(total(right**2) * total(rest**2))
    known = (persons >= 2) & (size > NO_SPREAD * asked)
    found = total(right * rest) / np.where(known, size, 1.0)
    return tuple(float(r) if k else None for r, k in zip(found, known, strict=True))


def correlation(first: Numbers, second: Numbers, counts: Numbers) -> float | None:
    """Return Pearson's correlation of rows that stand for `counts` persons; None without spread."""
    persons = counts.sum()
    if persons < 2:
        return None
    first = first - counts @ first / persons
    second = second - counts @ second / persons
    size = math.sqrt(float(counts @ first**2) * float(counts @ second**2))
    return float(counts @ (first * second)) / size if size > NO_SPREAD * persons else None


def _reliability(responses: Responses) -> Reliability | WhyNoAlpha:
    if not responses.complete:
        return WhyNoAlpha.INCOMPLETE
    if responses.items < 2 or responses.persons < 2:
        return WhyNoAlpha.TOO_FEW
    score, counts, persons = responses.score, responses.counts, responses.persons
    mean = float(counts @ score / persons)
    variance = float(counts @ (score - mean) ** 2 / (persons - 1))
    share = responses.answered_right / persons
    item_variance = share * (1 - share) * persons / (persons - 1)
    alpha = _alpha(responses.items, float(item_variance.sum()), variance)
    if alpha is None:
        return WhyNoAlpha.NO_SPREAD
    without = tuple(
        _alpha_without(responses, item, item_variance) for item in range(responses.items)
    )
    return Reliability(mean, math.sqrt(variance), alpha, without)


def _alpha(items: int, of_items: float, of_score: float) -> float | None:
    """k/(k−1)·(1 − Σ item variances/score variance), all variances over n − 1.

    Item variances over n beside a score variance over n − 1 make alpha too large.
    """
    if items < 2 or of_score <= NO_SPREAD:
        return None
    return items / (items - 1) * (1 - of_items / of_score)


def _alpha_without(responses: Responses, item: int, item_variance: Numbers) -> float | None:
    score = responses.score - responses.right[:, [item]].toarray().ravel()
    counts, persons = responses.counts, responses.persons
    mean = counts @ score / persons
    variance = float(counts @ (score - mean) ** 2 / (persons - 1))
    others = float(item_variance.sum() - item_variance[item])
    return _alpha(responses.items - 1, others, variance)
