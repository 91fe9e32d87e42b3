"""From results to decisions about people: cut score, share passed, learning curve."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Annotated, Self

from pydantic import Field, model_validator

from academy.calculations.inputs import Inputs, Whole, fault, quantity
from academy.calculations.registry import Calculation
from academy.domain.assessment.cut_score import cut_score
from academy.domain.assessment.proportion import (
    Interval,
    clopper_pearson_interval,
    jeffreys_interval,
    panels_for_proof,
    wilson_interval,
)
from academy.domain.assessment.sequential import (
    SequentialRule,
    judge_panels,
    operating_characteristic,
    sequential_rule,
)

Rating = Annotated[Whole, Field(ge=0, le=100)]
MOST = 10_000


class CutScoreInputs(Inputs):
    ratings: list[Annotated[list[Rating], Field(min_length=1, max_length=MOST)]] = quantity(
        "judge by judge, how many of 100 just-competent trainees get each question right",
        "whole %",
        min_length=1,
        max_length=1000,
    )
    form: list[Annotated[Whole, Field(ge=0)]] | None = quantity(
        "the questions on the form, counted from 0; all where absent",
        default=None,
        min_length=1,
        max_length=MOST,
    )

    @model_validator(mode="after")
    def _rectangular(self) -> Self:
        questions = len(self.ratings[0])
        for judge, row in enumerate(self.ratings):
            if len(row) != questions:
                raise fault(
                    f"ratings[{judge}]",
                    f"{len(row)} ratings given; {questions} needed, as in ratings[0]",
                )
        for place, question in enumerate(self.form or ()):
            if question >= questions:
                raise fault(
                    f"form[{place}]",
                    f"{question} is not at most {questions - 1}, the last question",
                )
            if question in (self.form or ())[:place]:
                raise fault(f"form[{place}]", f"{question} was given before; each question once")
        return self


class ProportionInputs(Inputs):
    passed: Whole = quantity("how many were passed", ge=0, le=10**9)
    tried: Whole = quantity("out of how many", ge=1, le=10**9)
    confidence: float = quantity("how sure the interval is", default=0.95, gt=0, lt=1)

    @model_validator(mode="after")
    def _no_more_than_tried(self) -> Self:
        if self.passed > self.tried:
            raise fault("passed", f"{self.passed} is not at most tried, {self.tried}")
        return self


class RuleInputs(Inputs):
    p0: float = quantity("the failure rate of a trainee who should be accepted", gt=0, lt=1)
    p1: float = quantity("the failure rate of one who should not, above p0", gt=0, lt=1)
    alpha: float = quantity("the risk of refusing a trainee at p0", gt=0, lt=1)
    beta: float = quantity("the risk of accepting a trainee at p1", gt=0, lt=1)

    @model_validator(mode="after")
    def _ordered(self) -> Self:
        if self.p1 <= self.p0:
            raise fault("p1", f"{self.p1:.15g} is not above p0, {self.p0:.15g}")
        if self.alpha + self.beta >= 1:
            raise fault("beta", f"{self.beta:.15g} is not below 1 − alpha, {1 - self.alpha:.15g}")
        return self

    def rule(self) -> SequentialRule:
        return sequential_rule(self.p0, self.p1, self.alpha, self.beta)


class SequentialInputs(RuleInputs):
    outcomes: list[bool] | None = quantity(
        "panel by panel, true where it was passed", default=None, max_length=100_000
    )


class CharacteristicInputs(RuleInputs):
    p: float = quantity("the true failure rate", ge=0, le=1)


class ProofInputs(Inputs):
    target: float = quantity("the pass rate to be proven", gt=0, lt=1)
    confidence: float = quantity("how sure", gt=0, lt=1)


def _cut_score(inputs: CutScoreInputs) -> Mapping[str, object]:
    result = cut_score(inputs.ratings, inputs.form)
    return {
        "cut": result.cut,
        "se": result.se,
        "points_needed": result.points_needed,
        "questions": result.questions,
    }


def _proportion(inputs: ProportionInputs) -> Mapping[str, object]:
    given = (inputs.passed, inputs.tried, inputs.confidence)
    return {
        "wilson": _bounds(wilson_interval(*given)),
        "clopper_pearson": _bounds(clopper_pearson_interval(*given)),
        "jeffreys": _bounds(jeffreys_interval(*given)),
    }


def _bounds(interval: Interval) -> list[float]:
    return [interval.lower, interval.upper]


def _sequential(inputs: SequentialInputs) -> Mapping[str, object]:
    rule = inputs.rule()
    outcome = judge_panels(rule, inputs.outcomes or [])
    return {
        "s": rule.s,
        "h0": rule.h0,
        "h1": rule.h1,
        "straight_passes": rule.straight_passes,
        "decision": outcome.decision.value,
        "decided_after": outcome.decided_after,
    }


def _characteristic(inputs: CharacteristicInputs) -> Mapping[str, object]:
    point = operating_characteristic(inputs.rule(), inputs.p)
    return {"accept": point.accept, "mean_trials": point.mean_trials}


def _proof(inputs: ProofInputs) -> Mapping[str, object]:
    return {"panels": panels_for_proof(inputs.target, inputs.confidence)}


CALCULATIONS = (
    Calculation(
        name="cut-score",
        inputs=CutScoreInputs,
        compute=_cut_score,
        formula="cut = Σ over the form's questions of the judges' mean rating/100; se = sd(judge totals on that form)/√judges; a score passes when score ≥ cut, compared as integers",
        source="W. H. Angoff 1971, in Educational Measurement, 2nd ed.",
        caution="Never round the cut down. One judge has no se; about ten judges make a dependable cut. A cut that is off by its se fails people who can do the work.",
        units={"cut": "questions", "se": "questions", "points_needed": "questions"},
    ),
    Calculation(
        name="proportion",
        inputs=ProportionInputs,
        compute=_proportion,
        formula="Wilson: (p̂ + z²/2n ± z·√(p̂(1−p̂)/n + z²/4n²))/(1 + z²/n); Clopper-Pearson: Beta(x, n−x+1) and Beta(x+1, n−x) quantiles; Jeffreys: Beta(x+½, n−x+½) quantiles, 0 at x = 0, 1 at x = n",
        source="Wilson 1927, JASA 22, 209; Clopper and Pearson 1934, Biometrika 26, 404; Brown, Cai and DasGupta 2001, Statistical Science 16, 101",
        caution="Ten out of ten is not proof of 90 %: look at the lower bound.",
    ),
    Calculation(
        name="sequential",
        inputs=SequentialInputs,
        compute=_sequential,
        formula="P = ln(p1/p0), Q = ln((1−p0)/(1−p1)), s = Q/(P+Q), h0 = ln((1−alpha)/beta)/(P+Q), h1 = ln((1−beta)/alpha)/(P+Q); competent when failures ≤ s·n − h0, not yet when ≥ s·n + h1, at the first crossing",
        source="A. Wald 1947, Sequential Analysis, ch. 5",
        caution="Fix the rates and risks before the first panel. Restarting after a bad start, or choosing lines later, changes both risks.",
        units={"straight_passes": "panels", "decided_after": "panels"},
    ),
    Calculation(
        name="operating-characteristic",
        inputs=CharacteristicInputs,
        compute=_characteristic,
        formula="exact forward recursion over the number of failures, until less than 1e-12 is undecided",
        source="A. Wald 1947, Sequential Analysis (the rule); recursion computed here",
        caution="mean_trials is a mean: some trainees need several times as many panels.",
        units={"mean_trials": "panels"},
    ),
    Calculation(
        name="panels-for-proof",
        inputs=ProofInputs,
        compute=_proof,
        formula="n = ⌈ln(1 − confidence)/ln(target)⌉, all n passed",
        source="One-sided exact binomial bound (Clopper and Pearson 1934) with no failure",
        caution="One failed panel starts the count again only if that was agreed before.",
        units={"panels": "panels"},
    ),
)
