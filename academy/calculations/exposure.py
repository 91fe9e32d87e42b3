"""Calculations about what a day's work does to hands and ears."""

from __future__ import annotations

from typing import Literal, Self

from pydantic import model_validator

from academy.calculations.inputs import Inputs, fault, quantity
from academy.calculations.registry import Calculation
from academy.domain.exposure import noise, vibration

HOURS_IN_A_DAY = 24.0
# Forty quarter hours are ten hours; their sum must not be refused for its rounding.
ROUNDING_H = 1e-9

HYGIENE_CAUTION = (
    "It supports and does not replace measurements at the workplace, the maker's data sheets, local "
    "law and a qualified occupational hygienist."
)


def _day_holds(hours: list[float]) -> None:
    """Refuse a day of more than 24 hours."""
    total = sum(hours)
    if total > HOURS_IN_A_DAY + ROUNDING_H:
        raise fault("exposures", f"the hours add up to {total:g}, which is not at most 24, one day")


class VibrationExposureInputs(Inputs):
    """One machine."""

    m_s2: float = quantity("vibration total value of the machine in use", "m/s²", ge=0.01, le=100.0)
    hours: float = quantity(
        "time the hands are on it while it runs", "h", ge=0.0, le=HOURS_IN_A_DAY
    )


class VibrationInputs(Inputs):
    """A day's machines."""

    exposures: list[VibrationExposureInputs] = quantity(
        "each machine of the day", min_length=1, max_length=100
    )

    @model_validator(mode="after")
    def _one_day(self) -> Self:
        _day_holds([exposure.hours for exposure in self.exposures])
        return self


def _vibration(inputs: VibrationInputs) -> dict[str, object]:
    day = vibration.daily_vibration(
        [
            vibration.VibrationExposure(exposure.m_s2, exposure.hours)
            for exposure in inputs.exposures
        ]
    )
    single = inputs.exposures[0].m_s2 if len(inputs.exposures) == 1 else None
    return {
        "a8_m_s2": day.a8_m_s2,
        "points": day.points,
        "action_value_reached": day.action_value_reached,
        "limit_value_reached": day.limit_value_reached,
        "hours_to_action": single and vibration.hours_to_reach(vibration.ACTION_VALUE_M_S2, single),
        "hours_to_limit": single and vibration.hours_to_reach(vibration.LIMIT_VALUE_M_S2, single),
    }


class NoiseExposureInputs(Inputs):
    """One stretch of the day."""

    dba: float = quantity("A-weighted level at the ear", "dBA", ge=0.0, le=140.0)
    hours: float = quantity("how long it lasted", "h", ge=0.0, le=HOURS_IN_A_DAY)


class NoiseInputs(Inputs):
    """A day's noise and the rule to judge it by."""

    exposures: list[NoiseExposureInputs] = quantity(
        "each stretch of the day", min_length=1, max_length=100
    )
    rule: Literal["niosh", "osha", "eu"] = quantity(
        "niosh (85 dBA, 3 dB), osha (90 dBA, 5 dB) or eu (energy mean over 8 h)"
    )

    @model_validator(mode="after")
    def _one_day(self) -> Self:
        _day_holds([exposure.hours for exposure in self.exposures])
        return self


def _noise(inputs: NoiseInputs) -> dict[str, object]:
    exposures = [noise.NoiseExposure(exposure.dba, exposure.hours) for exposure in inputs.exposures]
    if inputs.rule == "eu":
        return _noise_result(lex_8h_dba=noise.lex_8h_dba(exposures))
    rule = noise.DoseRule[inputs.rule.upper()]
    dose = noise.daily_dose(rule, exposures)
    single = exposures[0].level_dba if len(exposures) == 1 else None
    return _noise_result(
        dose_percent=dose.dose_percent,
        twa_dba=dose.twa_dba,
        allowed_hours=None if single is None else noise.allowed_hours(rule, single),
    )


def _noise_result(
    dose_percent: float | None = None,
    twa_dba: float | None = None,
    lex_8h_dba: float | None = None,
    allowed_hours: float | None = None,
) -> dict[str, object]:
    return {
        "dose_percent": dose_percent,
        "twa_dba": twa_dba,
        "lex_8h_dba": lex_8h_dba,
        "allowed_hours": allowed_hours,
    }


CALCULATIONS = (
    Calculation(
        name="vibration",
        inputs=VibrationInputs,
        compute=_vibration,
        units={
            "a8_m_s2": "m/s²",
            "points": "points",
            "hours_to_action": "h",
            "hours_to_limit": "h",
        },
        formula=(
            "A(8) = √(Σ a² T/8); points = Σ 2 a² T, T in hours; action 2.5 m/s² or 100 points, "
            "limit 5 m/s² or 400 points; time for one machine 8 (2.5/a)² and 8 (5/a)² hours"
        ),
        source="Directive 2002/44/EC, article 3 and annex A.1; points of the British exposure ready-reckoner",
        caution=(
            f"{HYGIENE_CAUTION} A declared value comes from a laboratory; worn plates and pads shake more. "
            "Tingling, numb or white fingers: stop and tell someone, whatever the figure."
        ),
    ),
    Calculation(
        name="noise",
        inputs=NoiseInputs,
        compute=_noise,
        units={"dose_percent": "%", "twa_dba": "dBA", "lex_8h_dba": "dBA", "allowed_hours": "h"},
        formula=(
            "dose = 100 Σ C/T; niosh T = 8/2^((L − 85)/3) h, TWA = 10 log10(D/100) + 85; "
            "osha T = 8/2^((L − 90)/5) h, TWA = 16.61 log10(D/100) + 90; "
            "eu L_EX,8h = 10 log10(Σ T 10^(L/10)/8); no threshold level"
        ),
        source="NIOSH 98-126 (1998); 29 CFR 1910.95 appendix A; Directive 2003/10/EC with ISO 1999",
        caution=(
            f"{HYGIENE_CAUTION} The three rules do not agree; the one that is law where you work decides. "
            "Wear protection from 85 dBA on whatever the dose."
        ),
    ),
)
