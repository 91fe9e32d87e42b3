"""The calculation of how fast the working face of a machine moves."""

from __future__ import annotations

from typing import Literal

from pydantic import ValidationInfo, field_validator

from academy.calculations.inputs import Inputs, fault, quantity
from academy.calculations.polishing import MODEL_CAUTION, pad_diameter
from academy.calculations.registry import Calculation
from academy.domain.polishing import kinematics


class MachineSpeedInputs(Inputs):
    """A rotary has a turning speed; a dual action has an orbit and, once it spins, a spin."""

    kind: Literal["rotary", "dual-action"] = quantity("kind of machine: rotary or dual-action")
    pad_mm: float = pad_diameter()
    rpm: float | None = quantity(
        "turning speed of a rotary, needed; spin of a dual action's pad, 0 if not given",
        "1/min",
        default=None,
        ge=0.0,
        le=20000.0,
        validate_default=True,
    )
    throw_mm: float | None = quantity(
        "throw of a dual action, the diameter of its orbit; none for a rotary",
        "mm",
        default=None,
        ge=0.0,
        le=50.0,
        validate_default=True,
    )
    orbits_per_min: float | None = quantity(
        "orbits of a dual action; none for a rotary",
        "1/min",
        default=None,
        ge=0.0,
        le=20000.0,
        validate_default=True,
    )

    @field_validator("rpm")
    @classmethod
    def _a_rotary_turns(cls, given: float | None, info: ValidationInfo) -> float | None:
        if given is None and info.data.get("kind") == "rotary":
            raise fault("", "missing; a rotary needs its turning speed, 0 to 20000 a minute")
        return given

    @field_validator("throw_mm", "orbits_per_min")
    @classmethod
    def _only_a_dual_action_orbits(cls, given: float | None, info: ValidationInfo) -> float | None:
        most = "50 mm" if info.field_name == "throw_mm" else "20000 a minute"
        kind = info.data.get("kind")
        if kind == "dual-action" and not given:
            was = "missing" if given is None else "0 is not above 0"
            raise fault("", f"{was}; a dual action needs it, above 0 and at most {most}")
        if kind == "rotary" and given:
            raise fault("", f"{given:g} was given, but a rotary has no orbit; leave it out")
        return given


def _machine_speed(inputs: MachineSpeedInputs) -> dict[str, object]:
    spin_rpm = inputs.rpm or 0.0
    if inputs.throw_mm and inputs.orbits_per_min:
        speed = kinematics.dual_action_speed(
            inputs.pad_mm, inputs.throw_mm, inputs.orbits_per_min, spin_rpm
        )
    else:
        speed = kinematics.rotary_speed(inputs.pad_mm, spin_rpm)
    return {
        "rim_m_s": speed.rim_m_s,
        "mean_m_s": speed.mean_m_s,
        "orbit_m_s": speed.orbit_m_s,
    }


CALCULATIONS = (
    Calculation(
        name="machine-speed",
        inputs=MachineSpeedInputs,
        compute=_machine_speed,
        units={"rim_m_s": "m/s", "mean_m_s": "m/s", "orbit_m_s": "m/s"},
        formula=(
            "rim v = π d n; rotary mean = 2/3 v; orbit V = π D N; dual action mean = "
            "(2/R²) ∫ r (2/π)(V + ω r) E(m) dr over 0..R, m = 4 V ω r/(V + ω r)², "
            "E the complete elliptic integral of the second kind"
        ),
        source=(
            "Kinematics; Abramowitz & Stegun 1964, 17.3.3, for the mean over the angle between "
            "orbit and spin; recomputed by sampling the motion"
        ),
        caution=MODEL_CAUTION
        + " Dial figures are without load: the machine runs slower under the hand.",
    ),
)
