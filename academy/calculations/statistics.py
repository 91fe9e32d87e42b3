"""Statistics of readings: summary, one-way analysis of variance, paired difference."""

from __future__ import annotations

from dataclasses import asdict
from typing import Annotated, Self

from pydantic import Field, model_validator

from academy.calculations.inputs import Inputs, Written, fault, quantity
from academy.calculations.registry import Calculation
from academy.domain.metrology.anova import one_way
from academy.domain.metrology.paired import paired_difference
from academy.domain.metrology.summary import summarise

MOST_VALUES = 100_000


class StatisticsInputs(Inputs):
    values: list[Written] = quantity(
        "the readings, as numbers or decimal texts", "any", min_length=1, max_length=MOST_VALUES
    )


class OneWayInputs(Inputs):
    groups: list[Annotated[list[Written], Field(min_length=1, max_length=MOST_VALUES)]] = quantity(
        "the readings group by group, as numbers or decimal texts",
        "any",
        min_length=2,
        max_length=1000,
    )


class PairedInputs(Inputs):
    first: list[Written] = quantity("first values", "any", min_length=1, max_length=MOST_VALUES)
    second: list[Written] = quantity(
        "second values, in the same order", "as first", min_length=1, max_length=MOST_VALUES
    )

    @model_validator(mode="after")
    def _in_pairs(self) -> Self:
        if len(self.first) != len(self.second):
            raise fault(
                "second",
                f"{len(self.second)} given; {len(self.first)} needed, one for each in first",
            )
        return self


def _statistics(inputs: StatisticsInputs) -> dict[str, object]:
    summary = summarise(inputs.values)
    return {
        "n": summary.n,
        "mean": summary.mean,
        "sd": summary.sd,
        "min": summary.minimum,
        "max": summary.maximum,
        "cv_percent": summary.cv_percent,
        "lag1_autocorrelation": summary.lag1_autocorrelation,
    }


def _one_way(inputs: OneWayInputs) -> dict[str, object]:
    return asdict(one_way(inputs.groups))


def _paired(inputs: PairedInputs) -> dict[str, object]:
    return asdict(paired_difference(inputs.first, inputs.second))


CALCULATIONS = (
    Calculation(
        name="statistics",
        inputs=StatisticsInputs,
        compute=_statistics,
        formula="mean = Σy/n; sd = √(Σ(y−mean)²/(n−1)); cv = 100·sd/|mean|; r₁ = Σ(yᵢ−mean)(yᵢ₋₁−mean)/Σ(yᵢ−mean)²; summed exactly",
        source="NIST Statistical Reference Datasets, univariate summary statistics (definitions and certified values)",
        caution="Standard deviation, coefficient of variation and autocorrelation are left out where they have no value: one reading, a mean of 0, readings all the same.",
        units=dict.fromkeys(("mean", "sd", "min", "max"), "as values") | {"cv_percent": "%"},
    ),
    Calculation(
        name="one-way-anova",
        inputs=OneWayInputs,
        compute=_one_way,
        formula="F = (SSB/(k−1))/(SSW/(n−k)); r2 = SSB/(SSB+SSW); residual_sd = √(SSW/(n−k)); p = P(F at least this large by chance)",
        source="R. A. Fisher 1925; NIST Statistical Reference Datasets, one-way ANOVA (certified values)",
        caution="A large F says that the groups differ, not which one or why. The readings in a group have to be independent.",
        units={
            "ss_between": "squared unit of the values",
            "ss_within": "squared unit of the values",
            "residual_sd": "as groups",
        },
    ),
    Calculation(
        name="paired-difference",
        inputs=PairedInputs,
        compute=_paired,
        formula="d = first − second; t = mean(d)/(s(d)/√n); mean(d) ± t(0.975, n−1)·s(d)/√n",
        source="Student 1908, Biometrika 6, 1",
        caution="Only for values that belong together, such as the same spot before and after. Student's t and its probability are left out where all differences are the same.",
        units=dict.fromkeys(("mean_difference", "sd", "lower", "upper"), "as first"),
    ),
)
