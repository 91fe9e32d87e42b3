"""Calculations about working a section: dwell, pressure and what they take off."""

from __future__ import annotations

from typing import Self

from pydantic import model_validator

from academy.calculations.inputs import Inputs, Whole, fault, quantity
from academy.calculations.registry import Calculation
from academy.domain.polishing import dwell, pressure, preston

MODEL_CAUTION = (
    "A model of an ideal flat pad: it teaches proportions and ranks choices, the thickness gauge "
    "decides. It supports and does not replace the maker's data sheets, the safety data sheets, "
    "local rules and qualified practice."
)

SMALLEST_PAD_MM, LARGEST_PAD_MM = 5.0, 500.0


def pad_diameter() -> float:
    """Declare the pad's diameter, the same in every calculation."""
    field: float = quantity("diameter of the pad", "mm", ge=SMALLEST_PAD_MM, le=LARGEST_PAD_MM)
    return field


def hand_force() -> float:
    """Declare the force on the pad, the machine's weight included."""
    field: float = quantity("force on the pad, with the machine's weight", "N", ge=0.1, le=500.0)
    return field


class RowsInputs(Inputs):
    """How the pad is moved in parallel rows."""

    pad_mm: float = pad_diameter()
    arm_speed_mm_s: float = quantity("speed of the hand along a row", "mm/s", ge=0.1, le=1000.0)
    overlap: float = quantity(
        "share of the pad's width that rows overlap; 0.5 is half", ge=0.0, le=0.99
    )
    passes: Whole = quantity("number of passes over the whole section", ge=1, le=100)


class DwellInputs(RowsInputs):
    """A square section worked in parallel rows."""

    section_mm: float = quantity("side of the square section", "mm", ge=10.0, le=5000.0)
    mean_m_s: float | None = quantity(
        "mean sliding speed of the face (see machine-speed)", "m/s", default=None, ge=0.0, le=100.0
    )


def _dwell_on_a_section(inputs: DwellInputs) -> dict[str, object]:
    dwell_s = dwell.dwell_per_pass_s(inputs.pad_mm, inputs.arm_speed_mm_s, inputs.overlap)
    sliding_m = None
    if inputs.mean_m_s is not None:
        sliding_m = dwell.sliding_distance_m(inputs.mean_m_s, dwell_s, inputs.passes)
    return {
        "dwell_per_pass_s": dwell_s,
        "time_s": dwell.working_time_s(
            inputs.section_mm, inputs.pad_mm, inputs.arm_speed_mm_s, inputs.overlap, inputs.passes
        ),
        "sliding_m": sliding_m,
        "unevenness": dwell.spread_between_rows(inputs.overlap).unevenness,
    }


class ContactPressureInputs(Inputs):
    """A pad lying flat, hanging over an edge, or bridging a crown."""

    force_n: float = hand_force()
    pad_mm: float = pad_diameter()
    overhang_mm: float | None = quantity(
        "how far the pad's centre is beyond the edge; negative inside the panel",
        "mm",
        default=None,
        ge=-5000.0,
        le=LARGEST_PAD_MM / 2.0,
    )
    strip_mm: float | None = quantity(
        "width of the strip that touches on a crown", "mm", default=None, ge=0.1, le=LARGEST_PAD_MM
    )

    @model_validator(mode="after")
    def _one_place_that_touches(self) -> Self:
        if self.overhang_mm is None:
            return self
        if self.strip_mm is not None:
            raise fault("strip_mm", "give overhang_mm or strip_mm, not both")
        if self.overhang_mm >= self.pad_mm / 2.0:
            given, radius = f"{self.overhang_mm:g}", f"{self.pad_mm / 2.0:g}"
            raise fault(
                "overhang_mm",
                f"{given} is not below {radius}, the pad's radius: no part would touch",
            )
        return self


def _contact_pressure(inputs: ContactPressureInputs) -> dict[str, object]:
    if inputs.overhang_mm is not None:
        contact = pressure.pressure_at_edge(inputs.force_n, inputs.pad_mm, inputs.overhang_mm)
    elif inputs.strip_mm is not None:
        contact = pressure.pressure_on_strip(inputs.force_n, inputs.pad_mm, inputs.strip_mm)
    else:
        contact = pressure.pressure_flat(inputs.force_n, inputs.pad_mm)
    return {"pressure_kpa": contact.pressure_kpa, "factor": contact.factor}


class SetOfPassesInputs(RowsInputs):
    """One way of working a section."""

    force_n: float = hand_force()
    mean_m_s: float = quantity(
        "mean sliding speed of the face (see machine-speed)", "m/s", gt=0.0, le=100.0
    )

    def as_set(self) -> preston.SetOfPasses:
        """Return the domain's value."""
        return preston.SetOfPasses(
            self.force_n, self.pad_mm, self.arm_speed_mm_s, self.overlap, self.passes, self.mean_m_s
        )


class RemovalRatioInputs(Inputs):
    """Two ways of working, the same pad material, abrasive and paint."""

    reference: SetOfPassesInputs = quantity("the way whose removal is known")
    choice: SetOfPassesInputs = quantity("the way to compare with it")


def _removal_ratio(inputs: RemovalRatioInputs) -> dict[str, object]:
    return {"ratio": preston.removal_ratio(inputs.reference.as_set(), inputs.choice.as_set())}


CALCULATIONS = (
    Calculation(
        name="dwell",
        inputs=DwellInputs,
        compute=_dwell_on_a_section,
        units={
            "dwell_per_pass_s": "s",
            "time_s": "s",
            "sliding_m": "m",
            "unevenness": "share of the mean",
        },
        formula=(
            "t = π d/(4 u (1 − o)); T = N L²/(d (1 − o) u); s = v̄ t N; "
            "unevenness = (max − min)/mean of the chords' sum over one row spacing"
        ),
        source="Geometry of an ideal disc in parallel rows; recomputed by a raster simulation",
        caution=MODEL_CAUTION
        + " Turning round at the row ends is left out, so real work takes longer.",
    ),
    Calculation(
        name="contact-pressure",
        inputs=ContactPressureInputs,
        compute=_contact_pressure,
        units={"pressure_kpa": "kPa", "factor": "times the flat pad"},
        formula=(
            "p = 4 F/(π d²); at an edge divided by (acos c − c √(1 − c²))/π with c = overhang/radius; "
            "on a strip p = F/(strip d)"
        ),
        source="Force over area; circular segment; recomputed by sampling the area",
        caution=MODEL_CAUTION
        + " Edges, body lines and crowns burn through first: tape them and stay off.",
    ),
    Calculation(
        name="removal-ratio",
        inputs=RemovalRatioInputs,
        compute=_removal_ratio,
        units={"ratio": "times the reference"},
        formula="h = k p s with p = 4 F/(π d²) and s = v̄ N π d/(4 u (1 − o)); ratio = h(choice)/h(reference)",
        source="F. W. Preston 1927, Journal of the Society of Glass Technology 11, 214",
        caution=(
            MODEL_CAUTION
            + " No coefficient is published for clear coat, so only ratios are shown; "
            "measure the first set of passes."
        ),
    ),
)
