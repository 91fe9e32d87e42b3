"""Whether the form a trainee happens to draw decides about passing.

A trainee exactly at the standard sits 400 drawn forms of 20 questions.  The
exact chance of passing is computed for each: with the cut of that form, from
five judges who see the bank's questions, and with a fixed mark of 70 %.
"""

from __future__ import annotations

import statistics
from dataclasses import dataclass
from typing import Any

from benchmarks.benchmark import Benchmark, Finding

BANK, FORM, FORMS, JUDGES, BANKS = 300, 20, 400, 5, 5
DIFFICULTY_SD_LOGIT = 1.2
JUDGE_SD_POINTS = 8.0
FIXED_MARK = 14  # 70 % of 20
STANDARD = 0.70
AT_MOST_SHARE_OF_SPREAD = 0.5


@dataclass(frozen=True, slots=True)
class Spread:
    """Over the forms of one bank, with one way of setting the mark."""

    sd: float
    least: float
    most: float
    false_pass: float
    false_fail: float


def measured() -> Finding:
    """Compare the two marks over several banks."""
    banks = [one_bank(seed) for seed in range(1, BANKS + 1)]
    ratios = [own.sd / fixed.sd for own, fixed in banks]
    return Finding(
        value=statistics.median(ratios),
        unit="of the spread with a fixed 70 % mark",
        limit=AT_MOST_SHARE_OF_SPREAD,
        direction="at most",
        detail={
            "ratios_by_bank": ratios,
            "own_cut": described([own for own, _fixed in banks]),
            "fixed_70_percent": described([fixed for _own, fixed in banks]),
            "forms": FORMS,
            "banks": BANKS,
        },
    )


def described(spreads: list[Spread]) -> dict[str, float]:
    """Return the medians over banks."""
    return {
        "sd_of_chance_at_the_standard": statistics.median(s.sd for s in spreads),
        "least_chance": min(s.least for s in spreads),
        "most_chance": max(s.most for s in spreads),
        "false_passes": statistics.median(s.false_pass for s in spreads),
        "false_fails": statistics.median(s.false_fail for s in spreads),
    }


def one_bank(seed: int) -> tuple[Spread, Spread]:
    """Return the spread with each form's own cut and with the fixed mark."""
    import numpy as np

    from academy.domain.assessment.cut_score import cut_score

    chance = np.random.default_rng(seed)
    difficulty = chance.normal(0, DIFFICULTY_SD_LOGIT, BANK)
    standard = ability_at_the_standard(difficulty)
    true_percent = 100 / (1 + np.exp(-(standard - difficulty)))
    judged = true_percent + chance.normal(0, JUDGE_SD_POINTS, (JUDGES, BANK))
    ratings = np.clip(np.rint(judged), 0, 100).astype(int).tolist()
    forms = [chance.choice(BANK, FORM, replace=False) for _ in range(FORMS)]
    own = [cut_score(ratings, [int(q) for q in form]).points_needed for form in forms]
    drawn = [difficulty[form] for form in forms]
    return spread(drawn, own, standard), spread(drawn, [FIXED_MARK] * FORMS, standard)


def ability_at_the_standard(difficulty: Any) -> float:
    """Return the ability that gets 70 % of the bank right, by halving."""
    import numpy as np

    low, high = -6.0, 6.0
    for _ in range(60):
        middle = (low + high) / 2
        share = np.mean(1 / (1 + np.exp(difficulty - middle)))
        low, high = (middle, high) if share < STANDARD else (low, middle)
    return low


def spread(forms: list[Any], marks: list[int], standard: float) -> Spread:
    """Return the spread of the chance at the standard, and wrong decisions over all trainees.

    Trainees' abilities are normal about the standard, sd 1; who stands exactly
    at it is counted as good enough.
    """
    import numpy as np

    from academy.domain.assessment.latent import ability_grid
    from academy.domain.assessment.score_distribution import chance_of_passing

    grid = ability_grid()
    abilities, share = standard + grid.theta, np.exp(grid.log_share)
    passing = np.array(
        [
            chance_of_passing(1 / (1 + np.exp(difficulty[:, None] - abilities)), mark)
            for difficulty, mark in zip(forms, marks, strict=True)
        ]
    )
    at_standard = passing[:, len(abilities) // 2]
    mean, enough = passing.mean(axis=0), abilities >= standard
    return Spread(
        sd=float(at_standard.std(ddof=1)),
        least=float(at_standard.min()),
        most=float(at_standard.max()),
        false_pass=float(share[~enough] @ mean[~enough]),
        false_fail=float(share[enough] @ (1 - mean[enough])),
    )


BENCHMARKS = (
    Benchmark(
        "quiz-fairness",
        "how much the drawn form decides about a trainee at the standard: own cut against 70 %",
        measured,
    ),
)
