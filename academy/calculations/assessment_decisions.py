"""How far decisions and raters can be relied on."""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import TYPE_CHECKING, Annotated, Literal, Self

from pydantic import Field, PlainSerializer, PlainValidator, model_validator
from pydantic_core import PydanticCustomError

from academy.calculations.inputs import Inputs, Whole, fault, quantity
from academy.calculations.registry import Calculation
from academy.domain.assessment.agreement import Agreement, agreement
from academy.domain.assessment.agreement_words import agreement_in_words
from academy.domain.assessment.decision_quality import (
    DecisionQuality,
    beta_binomial_quality,
    true_shares,
)
from academy.domain.assessment.rater_alpha import Scale

if TYPE_CHECKING:
    from academy.domain.assessment.agreement import Numbers

MOST_ITEMS = 2_000


def _rating(value: object) -> float | str | None:
    if isinstance(value, bool) or not isinstance(value, (int, float, str, type(None))):
        raise PydanticCustomError("decimal", "is not a number, a word or null")
    if isinstance(value, str):
        if not 0 < len(value) <= 200:
            raise PydanticCustomError("decimal", "is not a word of up to 200 letters")
        return value
    if value is not None and not abs(value) <= 1e100:
        raise PydanticCustomError("decimal", "is not a number up to 1e100")
    return value


def _as_given(value: object) -> object:
    return value


Rating = Annotated[float | str | None, PlainValidator(_rating), PlainSerializer(_as_given)]
Ratings = Annotated[list[Rating], Field(min_length=1, max_length=100_000)]


class ConsistencyInputs(Inputs):
    items: Whole = quantity("questions on the form", ge=2, le=MOST_ITEMS)
    mean: float = quantity("mean score", "questions", ge=0)
    variance: float = quantity("population variance of the scores", "questions²", gt=0)
    cut: float = quantity("score from which one passes", "questions", ge=0)
    times: Whole = quantity("how many times as long the longer form is", default=2, ge=1, le=10)

    @model_validator(mode="after")
    def _on_the_form(self) -> Self:
        for name, given in (("mean", self.mean), ("cut", self.cut)):
            if given > self.items:
                raise fault(name, f"{given:.15g} is not at most items, {self.items}")
        most = self.mean * (self.items - self.mean)
        if self.variance > most * (1 + 1e-9):
            raise fault(
                "variance",
                f"{self.variance:.15g} is not at most mean·(items − mean), {most:.15g}",
            )
        return self


class AgreementInputs(Inputs):
    ratings: list[Ratings] = quantity(
        "rater by rater, each subject's rating (words on a nominal scale); null where not rated",
        min_length=2,
        max_length=1_000,
    )
    scale: Literal["nominal", "ordinal", "interval", "ratio"] = quantity("what the ratings mean")
    categories: list[float] | None = quantity(
        "all categories of the scale, where some were never given: weighted kappas count steps over them",
        default=None,
        min_length=2,
        max_length=200,
    )

    @model_validator(mode="after")
    def _comparable(self) -> Self:
        for rater, row in enumerate(self.ratings):
            if len(row) != len(self.ratings[0]):
                raise fault(
                    f"ratings[{rater}]",
                    f"{len(row)} given; {len(self.ratings[0])} needed, as in ratings[0]",
                )
            for subject, rating in enumerate(row):
                self._check(f"ratings[{rater}][{subject}]", rating)
        words = any(isinstance(rating, str) for row in self.ratings for rating in row)
        if words and any(isinstance(r, (int, float)) for row in self.ratings for r in row):
            raise fault("ratings", "words and numbers are mixed; give one or the other")
        return self

    def _check(self, place: str, rating: float | str | None) -> None:
        if rating is None:
            return
        if isinstance(rating, str):
            if self.scale != "nominal" or self.categories is not None:
                raise fault(place, "a word has no place on a scale of numbers")
        elif self.scale == "ratio" and rating < 0:
            raise fault(place, f"{rating:.15g} is not at least 0, as a ratio scale needs")
        elif self.categories is not None and rating not in self.categories:
            raise fault(place, f"{rating:.15g} is not one of categories")

    @property
    def worded(self) -> bool:
        return any(isinstance(rating, str) for row in self.ratings for rating in row)

    def numbers(self) -> Numbers:
        """Return the ratings as numbers; words stand in the order of the alphabet."""
        import numpy as np

        given = {rating for row in self.ratings for rating in row if rating is not None}
        codes = {word: float(place) for place, word in enumerate(sorted(given, key=str))}
        table = [
            [math.nan if r is None else codes[r] if isinstance(r, str) else r for r in row]
            for row in self.ratings
        ]
        return np.array(table, dtype=float)


def _consistency(inputs: ConsistencyInputs) -> Mapping[str, object]:
    shares = true_shares(inputs.items, inputs.mean, inputs.variance)
    longer, cut = inputs.items * inputs.times, inputs.cut * inputs.times
    return {
        "kr21": shares.kr21(inputs.items),
        **_decisions(beta_binomial_quality(shares, inputs.items, inputs.cut)),
        "longer": {
            "items": longer,
            "cut": cut,
            "kr21": shares.kr21(longer),
            **_decisions(beta_binomial_quality(shares, longer, cut)),
        },
    }


def _decisions(quality: DecisionQuality) -> Mapping[str, object]:
    return {
        "p": quality.consistency,
        "kappa": quality.kappa,
        "pass_rate": quality.pass_rate,
        "false_pass": quality.false_pass,
        "false_fail": quality.false_fail,
    }


def _agreement(inputs: AgreementInputs) -> Mapping[str, object]:
    import numpy as np

    categories = None if inputs.categories is None else np.unique(inputs.categories)
    found = agreement(inputs.numbers(), Scale(inputs.scale), categories)
    in_words = str(agreement_in_words(found.alpha, found.observed_agreement))
    return {
        "krippendorff_alpha": found.alpha,
        "observed_agreement": found.observed_agreement,
        **_kappas(found),
        "fleiss_kappa": found.fleiss,
        "icc": found.intraclass.by_name() if found.intraclass and not inputs.worded else None,
        "in_words": in_words,
        "reason": in_words if found.alpha is None else None,
    }


def _kappas(found: Agreement) -> Mapping[str, object]:
    pair = found.pair
    return {
        "kappa": pair.plain if pair else None,
        "kappa_linear": pair.linear if pair else None,
        "kappa_quadratic": pair.quadratic if pair else None,
    }


CALCULATIONS = (
    Calculation(
        name="decision-consistency",
        inputs=ConsistencyInputs,
        compute=_consistency,
        formula="kr21 = n/(n−1)·(1 − M(n−M)/(n·V)); a = (1/kr21 − 1)·M, b = −a + n/kr21 − n; p: two forms decide alike, from P(x, y) = C(n,x)·C(n,y)·B(a+x+y, b+2n−x−y)/B(a, b); kappa = (p − p_c)/(1 − p_c); false_pass: passed with a true share below cut/n",
        source="H. Huynh 1976, Journal of Educational Measurement 13, 253",
        caution="Questions are taken as equally hard, which makes p a little low. longer is the same questions' kind, times as many, with the cut at the same share. A form that wrongly passes many needs more questions, not a higher cut alone.",
        units={"longer": "the same values for a longer form"},
    ),
    Calculation(
        name="agreement",
        inputs=AgreementInputs,
        compute=_agreement,
        formula="alpha = 1 − observed/expected disagreement over pairs of values; kappa = 1 − Σ w·observed/Σ w·expected, w = 1, steps or steps²; icc by one-way and two-way mean squares",
        source="Krippendorff 2011, Computing Krippendorff's Alpha-Reliability; Cohen 1960 and 1968; Fleiss 1971; Shrout and Fleiss 1979, Psychological Bulletin 86, 420",
        caution="Where nearly everything passes, alpha and kappa are low although raters mostly agree: read them beside observed_agreement. Without variation they are null. Weighted kappas count steps between the categories used (nominal, ordinal) or differences (interval, ratio).",
    ),
)
