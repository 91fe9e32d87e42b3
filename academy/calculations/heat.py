"""Calculations about heat under the pad, and what a late reading still shows."""

from __future__ import annotations

from typing import Literal

from academy.calculations.inputs import Inputs, quantity
from academy.calculations.polishing import MODEL_CAUTION, hand_force, pad_diameter
from academy.calculations.registry import Calculation
from academy.domain.polishing import heat
from academy.domain.polishing.materials import PanelMaterial


class PanelHeatInputs(Inputs):
    """A flat pad held still on one place."""

    force_n: float = hand_force()
    pad_mm: float = pad_diameter()
    mean_m_s: float = quantity(
        "mean sliding speed of the face (see machine-speed)", "m/s", ge=0.0, le=100.0
    )
    friction: float = quantity(
        "friction of the pad on the paint, 0.3 wet to 0.6 dry", gt=0.0, le=2.0
    )
    substrate: Literal["steel", "aluminium", "abs", "pp"] = quantity("what the panel is made of")
    thickness_mm: float = quantity("thickness of the panel's sheet", "mm", ge=0.1, le=50.0)
    seconds: float = quantity("how long the pad stays there", "s", ge=0.0, le=3600.0)


def _panel_heat(inputs: PanelHeatInputs) -> dict[str, object]:
    made = heat.friction_heat(inputs.force_n, inputs.pad_mm, inputs.mean_m_s, inputs.friction)
    rise = heat.panel_rise(
        PanelMaterial(inputs.substrate), made.flux_w_m2, inputs.thickness_mm, inputs.seconds
    )
    return {
        "flux_w_m2": made.flux_w_m2,
        "power_w": made.power_w,
        "rise_k": rise.rise_k,
        "rise_lumped_k": rise.rise_lumped_k,
        "rise_half_space_k": rise.rise_half_space_k,
        "rise_slab_k": rise.rise_slab_k,
    }


class LateReadingInputs(Inputs):
    """A plastic panel read some time after the pad left it."""

    heated_s: float = quantity("how long the place was heated", "s", gt=0.0, le=3600.0)
    waited_s: float = quantity(
        "time from the end of heating to the reading", "s", ge=0.0, le=3600.0
    )


def _late_reading(inputs: LateReadingInputs) -> dict[str, object]:
    return {"fraction_left": heat.fraction_left(inputs.heated_s, inputs.waited_s)}


CALCULATIONS = (
    Calculation(
        name="panel-heat",
        inputs=PanelHeatInputs,
        compute=_panel_heat,
        units={
            "flux_w_m2": "W/m²",
            "power_w": "W",
            "rise_k": "K",
            "rise_lumped_k": "K",
            "rise_half_space_k": "K",
            "rise_slab_k": "K",
        },
        formula=(
            "q = μ p v̄, P = μ F v̄; metal ΔT = q t/(ρ c δ); plastic the larger of "
            "2 q √(α t/π)/k and (q δ/k)[Fo + 1/3 − (2/π²) Σ exp(−n² π² Fo)/n²], Fo = α t/δ²"
        ),
        source=(
            "Carslaw & Jaeger 1959, Conduction of Heat in Solids, sections 2.9 and 3.8 (from memory, "
            "recomputed by finite differences); heat properties are rounded handbook values"
        ),
        caution=(
            f"{MODEL_CAUTION} All friction heat goes into the panel here and none is lost; a tilted pad or "
            "an edge is several times hotter. Read the panel with a thermometer as you work; the shop's limits decide when to change something and when to stop."
        ),
    ),
    Calculation(
        name="late-reading",
        inputs=LateReadingInputs,
        compute=_late_reading,
        units={"fraction_left": "share of the peak rise"},
        formula="(√(t₀ + Δ) − √Δ)/√t₀",
        source=(
            "Superposition of constant fluxes on a half-space, Carslaw & Jaeger 1959, section 2.9 "
            "(from memory, recomputed by finite differences)"
        ),
        caution=(
            f"{MODEL_CAUTION} For plastic, which keeps its heat at the face; metal spreads it at once. "
            "A cool reading after a wait does not show that the paint stayed cool."
        ),
    ),
)
