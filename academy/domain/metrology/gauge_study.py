"""A gauge study by analysis of variance: how much of what we see is the gauge, and how much the paint?

Two-way crossed random model, as in the AIAG Measurement Systems Analysis
manual, 4th ed. (2010), ch. III; known from memory, its worked example is
reproduced in the tests.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from enum import Enum
from fractions import Fraction

from academy.domain.metrology.crossed_study import CrossedStudy
from academy.domain.metrology.errors import NothingVaries
from academy.domain.metrology.exact import mean_of, square_root, squared_deviations

CATEGORIES_FACTOR = Fraction("1.41")


@dataclass(frozen=True, slots=True)
class Effect:
    """One line of the table.

    `f` divides by the mean square named in `against`, `f_repeatability` by
    that of repeatability: books and programs differ, so both stand here.
    None where that mean square is 0 or the line is not tested.
    """

    ss: float
    df: int
    ms: float
    f: float | None = None
    against: str | None = None
    p: float | None = None
    f_repeatability: float | None = None


@dataclass(frozen=True, slots=True)
class GaugeStudy:
    """Variance components, in squared units; negative estimates are set to 0 and named in `clamped`.

    `components` has repeatability, operator, interaction, reproducibility
    (operator + interaction), gauge, part and total.  `before_clamping` holds
    the negative estimates.  `distinct_categories` is None where the gauge
    shows no variation at all.
    """

    components: Mapping[str, float]
    percent_contribution: Mapping[str, float]
    percent_study_variation: Mapping[str, float]
    distinct_categories: int | None
    clamped: tuple[str, ...]
    before_clamping: Mapping[str, float]
    anova: Mapping[str, Effect]


class GaugeVerdict(Enum):
    """What a gauge's share of the study variation says."""

    ACCEPTABLE = "acceptable"
    CONDITIONAL = "conditional"
    NOT_ACCEPTABLE = "not acceptable"


@dataclass(frozen=True, slots=True)
class _Squares:
    """Sums of squares and degrees of freedom by source."""

    ss: dict[str, Fraction]
    df: dict[str, int]

    def ms(self, source: str) -> Fraction:
        return self.ss[source] / self.df[source]


def gauge_study_by_anova(study: CrossedStudy, *, pool_interaction: bool = False) -> GaugeStudy:
    """Return variance components of repeatability, operator, interaction and part.

    With p parts, o operators and r trials: repeatability MS_e; interaction
    (MS_op − MS_e)/r; operator (MS_o − MS_op)/(p·r); part (MS_p − MS_op)/(o·r).
    `pool_interaction` adds the interaction to repeatability first.

    Raises
    ------
    NothingVaries
        every reading is the same
    """
    squares = _squares(study)
    if squares.ss["total"] == 0:
        raise NothingVaries("all readings", "a share of the variation")
    error = "repeatability" if pool_interaction else "interaction"
    if pool_interaction:
        squares = _pooled(squares)
    raw = _raw_components(study, squares, error)
    variances = {name: max(Fraction(0), value) for name, value in raw.items()}
    return _study(
        _with_sums(variances),
        clamped={name: float(value) for name, value in raw.items() if value < 0},
        anova=_table(squares, error),
    )


def _squares(study: CrossedStudy) -> _Squares:
    operators, parts, trials = len(study.operators), len(study.parts), study.trials
    operator_means = [mean_of(study.of_operator(operator)) for operator in study.operators]
    part_means = [mean_of(study.of_part(part)) for part in study.parts]
    ss = {
        "operator": parts * trials * squared_deviations(operator_means),
        "part": operators * trials * squared_deviations(part_means),
        "repeatability": sum(map(squared_deviations, study.cells.values()), Fraction(0)),
        "total": squared_deviations(study.all()),
    }
    ss["interaction"] = ss["total"] - ss["operator"] - ss["part"] - ss["repeatability"]
    df = {
        "operator": operators - 1,
        "part": parts - 1,
        "interaction": (operators - 1) * (parts - 1),
        "repeatability": operators * parts * (trials - 1),
        "total": operators * parts * trials - 1,
    }
    return _Squares(ss, df)


def _pooled(squares: _Squares) -> _Squares:
    ss, df = dict(squares.ss), dict(squares.df)
    ss["repeatability"] += ss.pop("interaction")
    df["repeatability"] += df.pop("interaction")
    return _Squares(ss, df)


def _raw_components(study: CrossedStudy, squares: _Squares, error: str) -> dict[str, Fraction]:
    operators, parts, trials = len(study.operators), len(study.parts), study.trials
    kept = error == "interaction"
    interaction = (
        (squares.ms(error) - squares.ms("repeatability")) / trials if kept else Fraction(0)
    )
    return {
        "repeatability": squares.ms("repeatability"),
        "operator": (squares.ms("operator") - squares.ms(error)) / (parts * trials),
        "interaction": interaction,
        "part": (squares.ms("part") - squares.ms(error)) / (operators * trials),
    }


def _with_sums(variances: dict[str, Fraction]) -> dict[str, Fraction]:
    reproducibility = variances["operator"] + variances["interaction"]
    gauge = variances["repeatability"] + reproducibility
    return {
        **variances,
        "reproducibility": reproducibility,
        "gauge": gauge,
        "total": gauge + variances["part"],
    }


def _study(
    variances: dict[str, Fraction], clamped: dict[str, float], anova: dict[str, Effect]
) -> GaugeStudy:
    total = variances["total"]
    return GaugeStudy(
        components={name: float(value) for name, value in variances.items()},
        percent_contribution={
            name: float(100 * value / total) for name, value in variances.items()
        },
        percent_study_variation={
            name: 100 * square_root(value / total) for name, value in variances.items()
        },
        distinct_categories=distinct_categories(variances["part"], variances["gauge"]),
        clamped=tuple(clamped),
        before_clamping=clamped,
        anova=anova,
    )


def distinct_categories(part_variance: Fraction, gauge_variance: Fraction) -> int | None:
    """Return trunc(1.41·part sd/gauge sd): how many groups of parts the gauge can tell apart (AIAG)."""
    if gauge_variance == 0:
        return None
    # floor(sqrt(x)) as an integer root: a ratio of exactly 5 must not come out as 4.
    ratio = CATEGORIES_FACTOR**2 * part_variance / gauge_variance
    return math.isqrt(math.floor(ratio))


def _table(squares: _Squares, error: str) -> dict[str, Effect]:
    against = {"operator": error, "part": error}
    if error == "interaction":
        against["interaction"] = "repeatability"
    return {source: _effect(squares, source, against.get(source)) for source in squares.ss}


def _effect(squares: _Squares, source: str, against: str | None) -> Effect:
    from scipy.special import fdtrc

    df, ms = squares.df[source], squares.ms(source)
    line = Effect(ss=float(squares.ss[source]), df=df, ms=float(ms))
    if against is None:
        return line
    f = _ratio(ms, squares.ms(against))
    return Effect(
        ss=line.ss,
        df=df,
        ms=line.ms,
        f=f,
        against=against,
        p=None if f is None else float(fdtrc(df, squares.df[against], f)),
        f_repeatability=_ratio(ms, squares.ms("repeatability")),
    )


def _ratio(ms: Fraction, against: Fraction) -> float | None:
    return float(ms / against) if against else None


def gauge_verdict(percent_study_variation: float) -> GaugeVerdict:
    """Return the verdict on the gauge's percent study variation: below 10, to 30, above (AIAG bands).

    On which side exactly 10 and 30 fall is our choice: conditional.
    """
    if percent_study_variation < 10:
        return GaugeVerdict.ACCEPTABLE
    return (
        GaugeVerdict.CONDITIONAL if percent_study_variation <= 30 else GaugeVerdict.NOT_ACCEPTABLE
    )
