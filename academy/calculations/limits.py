"""Values against limits: probability of conformity, guard band, tolerance bound."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import asdict
from typing import Literal, Self

from pydantic import model_validator

from academy.calculations.inputs import Inputs, Written, fault, quantity
from academy.calculations.registry import Calculation
from academy.domain.metrology.conformity import (
    Side,
    acceptance_limit,
    conformity_probability,
    guard_band,
)
from academy.domain.metrology.tolerance import tolerance_bound


class ConformityInputs(Inputs):
    value: float = quantity("the measured value", "any")
    u: float = quantity("its standard uncertainty", "as value", gt=0)
    lower: float | None = quantity("lower limit; this, upper, or both", "as value", default=None)
    upper: float | None = quantity("upper limit; this, lower, or both", "as value", default=None)

    @model_validator(mode="after")
    def _limited(self) -> Self:
        if self.lower is None and self.upper is None:
            raise fault("lower", "missing; lower, upper or both are needed")
        if self.lower is not None and self.upper is not None and self.lower > self.upper:
            raise fault("upper", f"{self.upper:.15g} is not at least lower, {self.lower:.15g}")
        return self


class GuardBandInputs(Inputs):
    limit: float = quantity("the limit", "any")
    u: float = quantity("standard uncertainty of the values judged by it", "as limit", gt=0)
    risk: float = quantity(
        "the chance of a wrong yes that is accepted at the acceptance limit", gt=0, le=0.5
    )
    side: Literal["minimum", "maximum"] = quantity("whether the limit is a minimum or a maximum")


class ToleranceInputs(Inputs):
    values: list[Written] = quantity("the readings", "any", min_length=1, max_length=100_000)
    coverage: float = quantity("the share of all values that keep to the bound", gt=0, lt=1)
    confidence: float = quantity("how sure the bound is", gt=0, lt=1)
    side: Literal["minimum", "maximum", "lower", "upper"] = quantity(
        "a bound below the values (minimum, lower) or above them (maximum, upper)"
    )


def _conformity(inputs: ConformityInputs) -> Mapping[str, object]:
    probability = conformity_probability(
        inputs.value, inputs.u, lower=inputs.lower, upper=inputs.upper
    )
    return {"probability": probability}


def _guard_band(inputs: GuardBandInputs) -> Mapping[str, object]:
    side = Side(inputs.side)
    return {
        "acceptance_limit": acceptance_limit(inputs.limit, inputs.u, inputs.risk, side),
        "guard_band": guard_band(inputs.u, inputs.risk),
    }


def _tolerance_bound(inputs: ToleranceInputs) -> Mapping[str, object]:
    side = Side.MINIMUM if inputs.side in ("minimum", "lower") else Side.MAXIMUM
    return asdict(tolerance_bound(inputs.values, inputs.coverage, inputs.confidence, side))


CALCULATIONS = (
    Calculation(
        name="conformity",
        inputs=ConformityInputs,
        compute=_conformity,
        formula="p = Φ((upper − value)/u) − Φ((lower − value)/u); one limit: its term alone",
        source="JCGM 106:2012 7.2 to 7.4",
        caution="A value exactly at one limit conforms with probability 0.5: without a guard band that is a coin's toss.",
    ),
    Calculation(
        name="guard-band",
        inputs=GuardBandInputs,
        compute=_guard_band,
        formula="g = z(1 − risk)·u; minimum: limit + g; maximum: limit − g",
        source="JCGM 106:2012 8.3.2; ILAC-G8:09/2019",
        caution="Accept by the acceptance limit, not by the limit itself. 5 % needs 1.645 u, 1 % needs 2.326 u.",
        units={"acceptance_limit": "as limit", "guard_band": "as limit"},
    ),
    Calculation(
        name="tolerance-bound",
        inputs=ToleranceInputs,
        compute=_tolerance_bound,
        formula="k = t′(confidence; n−1, z(coverage)·√n)/√n, t′ of the noncentral t distribution; bound = mean − k·s (minimum) or mean + k·s (maximum)",
        source="NIST/SEMATECH e-Handbook of Statistical Methods 7.2.6.3",
        caution="Holds for normally distributed values only: plot them first. With few readings k is large, and rightly so.",
        units={"bound": "as values"},
    ),
)
