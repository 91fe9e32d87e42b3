"""A gauge study by averages and ranges: the worksheet that needs no computer.

AIAG Measurement Systems Analysis, 4th ed. (2010): the factors and the worked
example are from memory; the factors agree with two published lists.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from academy.domain.metrology.crossed_study import CrossedStudy
from academy.domain.metrology.errors import NothingVaries, OutsideTheTable
from academy.domain.metrology.exact import mean_of, square_root
from academy.domain.metrology.gauge_study import distinct_categories

K1_BY_TRIALS = {2: Fraction("0.8862"), 3: Fraction("0.5908")}
K2_BY_OPERATORS = {2: Fraction("0.7071"), 3: Fraction("0.5231")}
K3_BY_PARTS = {
    2: Fraction("0.7071"),
    3: Fraction("0.5231"),
    4: Fraction("0.4467"),
    5: Fraction("0.4030"),
    6: Fraction("0.3742"),
    7: Fraction("0.3534"),
    8: Fraction("0.3375"),
    9: Fraction("0.3249"),
    10: Fraction("0.3146"),
}


@dataclass(frozen=True, slots=True)
class AverageRangeStudy:
    """Standard deviations, in the readings' unit; shares of the total in percent.

    The method cannot tell an interaction from repeatability.
    """

    components: dict[str, float]
    percent_contribution: dict[str, float]
    percent_study_variation: dict[str, float]
    distinct_categories: int | None
    clamped: tuple[str, ...]


def gauge_study_by_average_range(study: CrossedStudy) -> AverageRangeStudy:
    """Return repeatability, reproducibility, gauge, part and total standard deviations.

    EV = R̄·K1; AV = √max(0, (X̄diff·K2)² − EV²/(p·r)); PV = R_p·K3.

    Raises
    ------
    OutsideTheTable
        more than 3 trials, 3 operators or 10 parts
    NothingVaries
        every reading is the same
    """
    operators, parts, trials = len(study.operators), len(study.parts), study.trials
    if not (trials in K1_BY_TRIALS and operators in K2_BY_OPERATORS and parts in K3_BY_PARTS):
        raise OutsideTheTable(operators, parts, trials)
    repeatability = (_mean_range(study) * K1_BY_TRIALS[trials]) ** 2
    spread = _range([mean_of(study.of_operator(operator)) for operator in study.operators])
    raw = (spread * K2_BY_OPERATORS[operators]) ** 2 - repeatability / (parts * trials)
    part_range = _range([mean_of(study.of_part(part)) for part in study.parts])
    return _study(repeatability, raw, (part_range * K3_BY_PARTS[parts]) ** 2)


def _study(repeatability: Fraction, raw: Fraction, part: Fraction) -> AverageRangeStudy:
    reproducibility = max(Fraction(0), raw)
    gauge = repeatability + reproducibility
    total = gauge + part
    if total == 0:
        raise NothingVaries("all readings", "a share of the variation")
    squares = {
        "repeatability": repeatability,
        "reproducibility": reproducibility,
        "gauge": gauge,
        "part": part,
        "total": total,
    }
    return AverageRangeStudy(
        components={name: square_root(value) for name, value in squares.items()},
        percent_contribution={name: float(100 * value / total) for name, value in squares.items()},
        percent_study_variation={
            name: 100 * square_root(value / total) for name, value in squares.items()
        },
        distinct_categories=distinct_categories(part, gauge),
        clamped=("reproducibility",) if raw < 0 else (),
    )


def _mean_range(study: CrossedStudy) -> Fraction:
    return mean_of([_range(values) for values in study.cells.values()])


def _range(values: list[Fraction]) -> Fraction:
    return max(values) - min(values)
