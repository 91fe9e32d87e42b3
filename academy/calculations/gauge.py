"""The gauge itself: its verification on a standard, and a gauge study."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import asdict
from typing import Annotated, Literal, Self

from pydantic import Field, model_validator

from academy.calculations.inputs import ONE_OR_MORE, Inputs, Named, Written, fault, quantity
from academy.calculations.registry import Calculation
from academy.domain.metrology.average_range import gauge_study_by_average_range
from academy.domain.metrology.crossed_study import Measurement, crossed_study
from academy.domain.metrology.gauge_study import gauge_study_by_anova
from academy.domain.metrology.verification import Combine, Tolerance, verify_gauge

LARGEST_UM = 10_000

Reading = Annotated[Written, Field(ge=-LARGEST_UM, le=LARGEST_UM)]


class ToleranceInputs(Inputs):
    absolute_um: Written = quantity("the fixed part", "µm", default=0, ge=0, le=LARGEST_UM)
    percent: Written = quantity("the part that grows with thickness", "%", default=0, ge=0, le=100)

    @model_validator(mode="after")
    def _given(self) -> Self:
        if not self.model_fields_set:
            raise fault("absolute_um", "missing; absolute_um, percent or both are needed")
        return self

    def tolerance(self) -> Tolerance:
        return Tolerance(self.absolute_um, self.percent)


class VerificationInputs(Inputs):
    certified_um: Written = quantity(
        "the standard's certified thickness; 0 for bare metal", "µm", ge=0, le=LARGEST_UM
    )
    readings: Annotated[list[Reading], ONE_OR_MORE] = quantity(
        "what the gauge shows on it", "µm", min_length=1, max_length=1000
    )
    gauge_tolerance: ToleranceInputs = quantity("the gauge's tolerance, from its data sheet")
    standard_tolerance: ToleranceInputs = quantity("the standard's tolerance, from its certificate")
    combine: Literal["root-sum-square", "sum"] = quantity(
        "how the two tolerances add", default="root-sum-square"
    )


class MeasurementInputs(Inputs):
    operator: Named = quantity("who measured")
    part: Named = quantity("which spot or part")
    trial: Named = quantity("which time")
    value: Written = quantity("the reading", "any")


class StudyInputs(Inputs):
    measurements: list[MeasurementInputs] = quantity(
        "every operator measures every part equally often", min_length=1, max_length=20_000
    )
    method: Literal["anova", "average-range"] = quantity(
        "analysis of variance, or the worksheet's averages and ranges", default="anova"
    )
    pool_interaction: bool = quantity(
        "anova: count the interaction of operator and part as repeatability", default=False
    )

    @model_validator(mode="after")
    def _each_once(self) -> Self:
        seen: set[tuple[str, str, str]] = set()
        for place, row in enumerate(self.measurements):
            key = (row.operator, row.part, row.trial)
            if key in seen:
                raise fault(
                    f"measurements[{place}].trial",
                    f"{row.trial} of operator {row.operator} on part {row.part} was given before; each trial once",
                )
            seen.add(key)
        return self


def _verification(inputs: VerificationInputs) -> Mapping[str, object]:
    return asdict(
        verify_gauge(
            inputs.certified_um,
            inputs.readings,
            inputs.gauge_tolerance.tolerance(),
            inputs.standard_tolerance.tolerance(),
            Combine(inputs.combine),
        )
    )


def _study(inputs: StudyInputs) -> Mapping[str, object]:
    study = crossed_study(
        Measurement(row.operator, row.part, row.value) for row in inputs.measurements
    )
    if inputs.method == "average-range":
        ranges = gauge_study_by_average_range(study)
        return {
            **ranges.components,
            "interaction": None,
            "percent_contribution": ranges.percent_contribution,
            "percent_study_variation": ranges.percent_study_variation,
            "distinct_categories": ranges.distinct_categories,
            "clamped": list(ranges.clamped),
            "anova": None,
        }
    result = asdict(gauge_study_by_anova(study, pool_interaction=inputs.pool_interaction))
    return {**result.pop("components"), **result, "clamped": list(result["clamped"])}


CALCULATIONS = (
    Calculation(
        name="gauge-verification",
        inputs=VerificationInputs,
        compute=_verification,
        formula="error = mean − certified; each tolerance = absolute + percent/100·certified; limit = √(gauge² + standard²) or gauge + standard; passed when |error| ≤ limit",
        source="SSPC-PA 2, verification of accuracy (wording from memory): root-sum-square for independent tolerances, the sum where a text asks for it",
        caution="A passed check says that the gauge reads this standard right, not that it reads your panel right. A failed one puts every reading since the last good check in doubt.",
        units={"mean_um": "µm", "error_um": "µm", "limit_um": "µm"},
    ),
    Calculation(
        name="gauge-study",
        inputs=StudyInputs,
        compute=_study,
        formula="anova: repeatability MS_e; interaction (MS_op − MS_e)/r; operator (MS_o − MS_op)/(p·r); part (MS_p − MS_op)/(o·r); average-range: EV = R̄·K1, AV = √((X̄diff·K2)² − EV²/(p·r)), PV = R_p·K3; categories = trunc(1.41·part sd/gauge sd)",
        source="AIAG Measurement Systems Analysis, 4th ed. 2010, ch. III (from memory; its worked example is reproduced)",
        caution="Variances for anova, standard deviations for average-range: the two methods differ on the same data, so name the method. Shares of contribution add to 100, shares of study variation do not. Negative estimates are set to 0 and named in clamped.",
        units=dict.fromkeys(
            ("repeatability", "reproducibility", "gauge", "part", "total"),
            "squared unit of the values (anova), unit of the values (average-range)",
        )
        | {"percent_contribution": "%", "percent_study_variation": "%"},
    ),
)
