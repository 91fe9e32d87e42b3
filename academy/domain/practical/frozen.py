"""The steps of a practical as plain values: text, integers, decimal text."""

from __future__ import annotations

from collections.abc import Mapping
from decimal import Decimal
from typing import Any

from academy.domain.practical.stages import Help, Pressure, Stage
from academy.domain.practical.steps import (
    Inspection,
    Judgement,
    Readings,
    SetUp,
    SpotReadings,
    StepBody,
    Talk,
    WorkingStep,
)


def frozen_body(body: StepBody) -> dict[str, Any]:
    """Return a step's body as plain values; a reading stays the decimal that was typed."""
    match body:
        case Readings(spots):
            return {"spots": [_frozen_spot(spot) for spot in spots]}
        case SetUp(present):
            return {"present": list(present)}
        case WorkingStep():
            return {
                "machine": body.machine,
                "pad": body.pad,
                "abrasive": body.abrasive,
                "dial": body.dial,
                "passes": body.passes,
                "seconds": body.seconds,
                "pressure": body.pressure.value,
                "help_given": body.help_given.value,
            }
        case Inspection(trainee_sees, supervisor_sees):
            return {"trainee_sees": trainee_sees, "supervisor_sees": supervisor_sees}
        case Judgement(met):
            return {"met": dict(met)}
        case Talk(went_well, change_next):
            return {"went_well": went_well, "change_next": change_next}


def body_from_frozen(stage: Stage, stored: Mapping[str, Any]) -> StepBody:
    """Return a step's body again."""
    match stage:
        case Stage.BEFORE | Stage.AFTER:
            return Readings(tuple(_thawed_spot(spot) for spot in stored["spots"]))
        case Stage.SET_UP:
            return SetUp(tuple(stored["present"]))
        case Stage.WORKING:
            fields = dict(stored)
            fields["pressure"] = Pressure(fields["pressure"])
            fields["help_given"] = Help(fields["help_given"])
            return WorkingStep(**fields)
        case Stage.INSPECTION:
            return Inspection(stored["trainee_sees"], stored["supervisor_sees"])
        case Stage.CRITERIA:
            return Judgement(dict(stored["met"]))
        case Stage.TALK:
            return Talk(stored["went_well"], stored["change_next"])


def _frozen_spot(spot: SpotReadings) -> dict[str, Any]:
    return {
        "spot": spot.spot,
        "readings_um": [str(value) for value in spot.readings_um],
        "dropped_um": [str(value) for value in spot.dropped_um],
        "dropped_reason": spot.dropped_reason,
    }


def _thawed_spot(stored: Mapping[str, Any]) -> SpotReadings:
    return SpotReadings(
        stored["spot"],
        tuple(Decimal(value) for value in stored["readings_um"]),
        tuple(Decimal(value) for value in stored["dropped_um"]),
        stored["dropped_reason"],
    )
