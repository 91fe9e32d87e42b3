"""From responses to questions: item statistics, options, response models, ability."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sized
from typing import Annotated, Self

from pydantic import Field, model_validator

from academy.calculations.inputs import ONE_OR_MORE, Inputs, Named, Whole, fault, quantity
from academy.calculations.registry import Calculation
from academy.domain.assessment.ability import ability_of
from academy.domain.assessment.item_parameters import ItemParameters, Numbers
from academy.domain.assessment.item_statistics import Reliability, item_statistics
from academy.domain.assessment.one_parameter import fit_one_parameter
from academy.domain.assessment.option_statistics import option_tables
from academy.domain.assessment.responses import Responses, responses_of
from academy.domain.assessment.two_parameter import fit_two_parameter

MOST_PERSONS, MOST_ITEMS = 100_000, 2_000
Mark = Annotated[Whole, Field(ge=0, le=1)]
Row = Annotated[list[Mark | None], Field(min_length=1, max_length=MOST_ITEMS)]
Pattern = Annotated[
    tuple[Row, Annotated[Whole, Field(ge=0, le=10**9)]],
    Field(strict=False),  # JSON has no tuples
]
Blank = Annotated[str, Field(max_length=0)]
Choices = Annotated[list[Named | Blank | None], Field(min_length=1, max_length=MOST_ITEMS)]
Slope = Annotated[float, Field(ge=-50, le=50)]
Easiness = Annotated[float, Field(ge=-100, le=100)]


def _same_length(rows: Iterable[Sized], expected: int, name: str, of: str) -> None:
    for place, row in enumerate(rows):
        if len(row) != expected:
            raise fault(f"{name}[{place}]", f"{len(row)} given; {expected} needed, as in {of}")


class ItemStatisticsInputs(Inputs):
    responses: list[Row] = quantity(
        "person by person, 1 right, 0 wrong or left blank, null not presented",
        min_length=1,
        max_length=MOST_PERSONS,
    )

    @model_validator(mode="after")
    def _rectangular(self) -> Self:
        _same_length(self.responses, len(self.responses[0]), "responses", "responses[0]")
        return self


class DistractorsInputs(Inputs):
    choices: list[Choices] = quantity(
        'person by person, the option taken at each question, "" left blank, null not presented',
        min_length=1,
        max_length=MOST_PERSONS,
    )
    keys: list[Named] = quantity(
        "the right option of each question", min_length=1, max_length=MOST_ITEMS
    )
    options: list[list[Named]] | None = quantity(
        "every option of each question, so that one nobody took counts 0", default=None
    )

    @model_validator(mode="after")
    def _rectangular(self) -> Self:
        _same_length(self.choices, len(self.keys), "choices", "keys")
        if self.options is not None and len(self.options) != len(self.keys):
            raise fault(
                "options", f"{len(self.options)} given; {len(self.keys)} needed, as in keys"
            )
        return self


class ModelInputs(Inputs):
    responses: list[Row] | None = quantity(
        "person by person, 1 right, 0 wrong or left blank, null not presented",
        default=None,
        min_length=1,
        max_length=MOST_PERSONS,
    )
    patterns: list[Pattern] | None = quantity(
        "in place of responses: each row of responses with the number of persons who gave it",
        default=None,
        min_length=1,
        max_length=MOST_PERSONS,
    )
    nodes: Whole = quantity(
        "how many equal steps of ability from −6 to 6", default=61, ge=11, le=601
    )
    slope_log_sd: float | None = quantity(
        "standard deviation of a prior on the logarithm of the slope; absent: no prior",
        default=None,
        ge=0.01,
        le=100,
    )

    @model_validator(mode="after")
    def _one_table(self) -> Self:
        if (self.responses is None) == (self.patterns is None):
            raise fault("responses", "give either responses or patterns, and not both")
        rows = self.rows()
        name = "responses" if self.patterns is None else "patterns"
        _same_length(rows, len(rows[0]), name, f"{name}[0]")
        if self.patterns is not None and not any(count for _row, count in self.patterns):
            raise fault("patterns", "no pattern was given by anybody")
        return self

    def rows(self) -> list[list[int | None]]:
        if self.patterns is None:
            return self.responses or []
        return [row for row, _count in self.patterns]

    def table(self) -> Responses:
        counts = None if self.patterns is None else [count for _row, count in self.patterns]
        return responses_of(self.rows(), counts)


class AbilityInputs(Inputs):
    a: Annotated[list[Slope], ONE_OR_MORE] = quantity(
        "slope of each question, or one for all", min_length=1, max_length=MOST_ITEMS
    )
    d: list[Easiness] = quantity("easiness of each question", min_length=1, max_length=MOST_ITEMS)
    responses: Row = quantity("one person's responses: 1 right, 0 wrong or blank, null not asked")

    @model_validator(mode="after")
    def _one_for_each_question(self) -> Self:
        for name, given in (("a", len(self.a)), ("responses", len(self.responses))):
            if given != len(self.d) and not (name == "a" and given == 1):
                raise fault(name, f"{given} given; {len(self.d)} needed, as in d")
        return self


def _item_statistics(inputs: ItemStatisticsInputs) -> Mapping[str, object]:
    found = item_statistics(responses_of(inputs.responses))
    whole = found.reliability if isinstance(found.reliability, Reliability) else None
    return {
        "share_right": list(found.share_right),
        "item_rest": list(found.item_rest),
        "answered": list(found.answered),
        "alpha": whole and whole.alpha,
        "alpha_if_deleted": whole and list(whole.alpha_if_deleted),
        "sem": whole and whole.sem,
        "mean": whole and whole.mean,
        "sd": whole and whole.sd,
        "reason": None if isinstance(found.reliability, Reliability) else found.reliability.value,
    }


def _distractors(inputs: DistractorsInputs) -> Mapping[str, object]:
    tables = option_tables(inputs.choices, inputs.keys, inputs.options)
    per_item = [
        {
            "key": table.key,
            "counts": dict(table.counts),
            "option_rest": dict(table.option_rest),
            "flags": [flag.value for flag in table.flags],
        }
        for table in tables
    ]
    by_measure = {
        name: [item[name] for item in per_item] for name in ("counts", "option_rest", "flags")
    }
    return {"per_item": per_item, **by_measure}


def _one_parameter(inputs: ModelInputs) -> Mapping[str, object]:
    table = inputs.table()
    fit = fit_one_parameter(table, inputs.nodes, inputs.slope_log_sd, tolerance=1e-8)
    return {
        "a": fit.slope,
        **_parameters(fit.parameters, table),
        "log_likelihood": fit.log_likelihood,
        "variance": fit.variance,
    }


def _two_parameter(inputs: ModelInputs) -> Mapping[str, object]:
    table = inputs.table()
    fit = fit_two_parameter(table, inputs.nodes, inputs.slope_log_sd, tolerance=1e-7)
    return {
        "a": _with_nulls(fit.parameters.a),
        **_parameters(fit.parameters, table),
        "log_likelihood": fit.log_likelihood,
    }


def _parameters(parameters: ItemParameters, table: Responses) -> Mapping[str, object]:
    return {
        "d": _with_nulls(parameters.d),
        "b": _with_nulls(parameters.b),
        "persons": table.persons,
        "items": table.items,
        "at_limit": list(parameters.at_limit),
    }


def _with_nulls(values: Numbers) -> list[float | None]:
    return [float(value) if math.isfinite(value) else None for value in values]


def _ability(inputs: AbilityInputs) -> Mapping[str, object]:
    import numpy as np

    slopes = np.broadcast_to(np.array(inputs.a), len(inputs.d))
    found = ability_of(slopes, np.array(inputs.d), inputs.responses)
    return {"eap": found.mean, "sd": found.sd}


CALCULATIONS = (
    Calculation(
        name="item-statistics",
        inputs=ItemStatisticsInputs,
        compute=_item_statistics,
        formula="item_rest: correlation of a question with the share right of the person's other questions; alpha = k/(k−1)·(1 − Σ item variances/score variance), all over n − 1 (KR-20); sem = sd·√(1 − alpha)",
        source="Cronbach 1951, Psychometrika 16, 297; Kuder and Richardson 1937, Psychometrika 2, 151",
        caution="alpha, sem, mean and sd exist only where everybody was asked the same questions; otherwise they are null and reason says why. Below 30 answers a share right is luck as much as difficulty.",
        units={"sem": "questions", "mean": "questions", "sd": "questions"},
    ),
    Calculation(
        name="distractors",
        inputs=DistractorsInputs,
        compute=_distractors,
        formula="option_rest: correlation of taking an option with the share right of the person's other questions; a suspected wrong key is one that some other option beats there",
        source="Correlations as for item-statistics; the limits behind the flags are common practice, no source",
        caution="A flag asks somebody to read the question again; it proves nothing. With few answers flags come and go by luck.",
    ),
    Calculation(
        name="one-parameter",
        inputs=ModelInputs,
        compute=_one_parameter,
        formula="logit P(right) = a·θ + d, θ ~ N(0, 1), one a for all; b = −d/a; variance = a², the variance of ability at slope 1; marginal maximum likelihood by EM on equal steps of θ to ±6",
        source="Bock and Aitkin 1981, Psychometrika 46, 443; Thissen 1982, Psychometrika 47, 175",
        caution="Below about 30 answers to a question its difficulty is mostly luck. A question that all answered alike has no finite d: null, and listed in at_limit (questions counted from 0).",
        units={"a": "logit", "d": "logit", "b": "sd of ability"},
    ),
    Calculation(
        name="two-parameter",
        inputs=ModelInputs,
        compute=_two_parameter,
        formula="logit P(right) = a_i·θ + d_i, θ ~ N(0, 1); b = −d/a; marginal maximum likelihood by EM on equal steps of θ to ±6; with slope_log_sd s a prior ln a ~ N(0, s²); log_likelihood is without it",
        source="Bock and Aitkin 1981, Psychometrika 46, 443; Mislevy 1986, Psychometrika 51, 177",
        caution="Slopes need hundreds of answers to each question, or a prior. A slope that would go beyond 5 stops there and is listed in at_limit (questions counted from 0).",
        units={"a": "logit", "d": "logit", "b": "sd of ability"},
    ),
    Calculation(
        name="ability",
        inputs=AbilityInputs,
        compute=_ability,
        formula="mean and sd of θ given the responses: logit P(right) = a·θ + d, θ ~ N(0, 1)",
        source="Bock and Mislevy 1982, Applied Psychological Measurement 6, 431",
        caution="All right or all wrong scores have no maximum-likelihood estimate; the posterior mean is given, drawn towards 0, and more so the fewer the questions.",
        units={"eap": "sd of ability", "sd": "sd of ability"},
    ),
)
