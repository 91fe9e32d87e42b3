"""Removal: how much came off, may more come off, how many readings it takes to see."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import asdict
from typing import Annotated, Literal

from pydantic import Field

from academy.calculations.inputs import ONE_OR_MORE, Inputs, Written, quantity
from academy.calculations.registry import Calculation
from academy.domain.metrology.budget import (
    CAP_UM,
    FLOOR_UM,
    Budget,
    History,
    PlannedStep,
    may_cut_again,
)
from academy.domain.metrology.removal import SpotReadings, removal_at_spots
from academy.domain.metrology.sample_size import readings_needed

LARGEST_UM = 10_000
CARE = (
    " The result supports and does not replace the maker's data sheet, the safety data sheet, local rules and "
    "qualified practice."
)
MOST_READINGS = 1000

Thickness = Annotated[Written, Field(gt=0, le=LARGEST_UM)]
Readings = Annotated[list[Thickness], ONE_OR_MORE, Field(min_length=1, max_length=MOST_READINGS)]


class Spot(Inputs):
    before_um: Readings = quantity("readings at this spot before the work", "µm")
    after_um: Readings = quantity("readings at the same spot after it", "µm")


class RemovalInputs(Inputs):
    spots: list[Spot] = quantity("the marked spots", min_length=1, max_length=MOST_READINGS)
    gauge_sd_um: Written | None = quantity(
        "the gauge's repeatability (standard deviation), for spots with single readings",
        "µm",
        default=None,
        gt=0,
        le=LARGEST_UM,
    )
    resolution_um: Written | None = quantity(
        "the last digit of the display", "µm", default=None, ge=0, le=100
    )


class MayCutInputs(Inputs):
    baseline_um: Thickness = quantity("total thickness before anybody polished", "µm")
    now_um: Thickness = quantity("total thickness now", "µm")
    planned_um: Written = quantity(
        "what the next step is expected to take off", "µm", ge=0, le=1000
    )
    planned_uncertainty_um: Written = quantity("how far that may be wrong", "µm", ge=0, le=1000)
    cap_um: Written = quantity(
        "the most that may come off over the panel's life", "µm", default=CAP_UM, ge=0, le=1000
    )
    floor_um: Written = quantity(
        "the least total that has to stay", "µm", default=FLOOR_UM, ge=0, le=LARGEST_UM
    )
    minimum_now_um: Thickness | None = quantity(
        "the thinnest spot now; now_um where absent", "µm", default=None
    )
    clear_um: Thickness | None = quantity(
        "the clear coat's thickness where it is known: the cap becomes the smaller of cap and a quarter of it",
        "µm",
        default=None,
    )
    history: Literal["known", "unknown", "repaint"] = quantity(
        "what is known of the paint's past", default="known"
    )
    substrate: Literal["steel", "aluminium", "plastic", "abs", "pp", "composite"] = quantity(
        "what the paint stands on", default="steel"
    )


class ReadingsNeededInputs(Inputs):
    sd_um: float = quantity(
        "standard deviation of readings at a spot (paired: of the differences)",
        "µm",
        gt=0,
        le=LARGEST_UM,
    )
    resolve_um: float = quantity("the change to be seen", "µm", gt=0, le=LARGEST_UM)
    power: float = quantity("the chance of seeing it", default=0.8, gt=0, lt=1)
    paired: bool = quantity(
        "same spots before and after, judged by their differences", default=False
    )


def _removal(inputs: RemovalInputs) -> Mapping[str, object]:
    spots = [SpotReadings(spot.before_um, spot.after_um) for spot in inputs.spots]
    result = asdict(removal_at_spots(spots, inputs.gauge_sd_um, inputs.resolution_um))
    return {**result, "per_spot": list(result["per_spot"])}


def _may_cut(inputs: MayCutInputs) -> Mapping[str, object]:
    decision = may_cut_again(
        inputs.baseline_um,
        inputs.now_um,
        PlannedStep(inputs.planned_um, inputs.planned_uncertainty_um),
        budget=Budget(inputs.cap_um, inputs.floor_um, inputs.clear_um),
        minimum_now_um=inputs.minimum_now_um,
        history=History(inputs.history),
        on_plastic=inputs.substrate not in ("steel", "aluminium"),
    )
    return {
        "allowed": decision.allowed,
        "used_um": decision.used_um,
        "left_um": decision.left_um,
        "reason": str(decision.reason),
    }


def _readings_needed(inputs: ReadingsNeededInputs) -> Mapping[str, object]:
    needed = readings_needed(
        inputs.sd_um, inputs.resolve_um, power=inputs.power, paired=inputs.paired
    )
    return {"readings": needed}


CALCULATIONS = (
    Calculation(
        name="removal",
        inputs=RemovalInputs,
        compute=_removal,
        formula="dᵢ = mean before − mean after; two spots or more: u = s(d)/√k, df k−1; one spot: u = s_p·√(1/n_b+1/n_a), df n_b+n_a−2; resolution r adds 2·(r²/12)/k to u²; Welch-Satterthwaite df, truncated; interval ± t(0.975, df)·u; unevenness = √max(0, s(d)² − mean uᵢ²)",
        source="JCGM 100:2008 (GUM) 4.2, 5.1, F.2.2.1, G.4",
        caution="The gauge reads the whole film: what was removed is known, the clear coat that is left is not. An uncertainty without degrees of freedom has infinitely many; a spot's bounds are not known where it has single readings and the gauge's repeatability is not given."
        + CARE,
        units=dict.fromkeys(
            (
                "removed_um",
                "u_um",
                "expanded_um",
                "lower_um",
                "upper_um",
                "unevenness_um",
                "max_removed_um",
            ),
            "µm",
        ),
    ),
    Calculation(
        name="may-cut-again",
        inputs=MayCutInputs,
        compute=_may_cut,
        formula="used = max(0, baseline − now); cap = min(cap, clear/4); allowed when used + planned + uncertainty ≤ cap and thinnest − planned − uncertainty ≥ floor; left = cap − used",
        source="Policy of this platform; common practice, no source: 8 µm over a panel's life, 25 % of a known clear coat, 80 µm in all",
        caution="A total-thickness gauge cannot show how much clear coat is left. The answer is 'ask' for an unknown history, a repaint or a plastic panel. The owner's limits and the car maker's data come first."
        + CARE,
        units={"used_um": "µm", "left_um": "µm"},
    ),
    Calculation(
        name="readings-needed",
        inputs=ReadingsNeededInputs,
        compute=_readings_needed,
        formula="n = ⌈2·((z(0.975) + z(power))·sd/resolve)²⌉ per side; paired: without the factor 2, n pairs",
        source="Two-sided 5 % normal formula for two means; computed",
        caution="Short by one or two where n is small, because Student's t is wider than the normal curve. Never fewer than 3 at a spot.",
        units={"readings": "per side (paired: pairs)"},
    ),
)
