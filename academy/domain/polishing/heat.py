"""How hot the paint gets under a pad that is held still.

All friction heat is taken to enter the panel and none to leave it, so the
rises are upper bounds for a flat pad; a tilted pad puts the same power on a
fifth of the face.  The thermometer at the panel decides.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import erfc, exp, inf, pi, sqrt

from academy.domain.polishing.materials import Material, PanelMaterial
from academy.domain.polishing.pressure import flat_pressure_kpa

MM_PER_M = 1000.0

# Below this Fourier number the image series, above it the cosine series,
# is exact to the last digit within TERMS terms.
FOURIER_NUMBER_OF_CHANGE = 0.3
TERMS = 12


@dataclass(frozen=True, slots=True)
class FrictionHeat:
    """Heat made under the pad: on each square metre of face, and in all."""

    flux_w_m2: float
    power_w: float


@dataclass(frozen=True, slots=True)
class PanelRise:
    """Rise of the surface by the models that fit the material; the larger is ``rise_k``.

    A model that does not fit the material is None: metal is lumped, plastic
    has the half-space and the slab.
    """

    rise_k: float
    rise_lumped_k: float | None = None
    rise_half_space_k: float | None = None
    rise_slab_k: float | None = None


def friction_heat(force_n: float, pad_mm: float, mean_m_s: float, friction: float) -> FrictionHeat:
    """Return the heat a flat pad makes, ``q = μ p v̄`` and ``P = μ F v̄``.

    Friction of foam on paint is taken as 0.3 wet to 0.6 dry, from memory;
    0.4 is the worked examples' value.
    """
    pressure_pa = 1000.0 * flat_pressure_kpa(force_n, pad_mm)
    return FrictionHeat(friction * pressure_pa * mean_m_s, friction * force_n * mean_m_s)


def panel_rise(
    substrate: PanelMaterial, flux_w_m2: float, thickness_mm: float, seconds: float
) -> PanelRise:
    """Return the rise of a panel's surface under a pad held still.

    Plastic sheet is shown by both models and the larger counts: the half-space
    is low once heat has reached the back of the sheet.
    """
    material = substrate.properties
    if substrate.is_metal:
        lumped_k = rise_lumped_k(material, flux_w_m2, thickness_mm, seconds)
        return PanelRise(lumped_k, rise_lumped_k=lumped_k)
    half_space_k = rise_half_space_k(material, flux_w_m2, seconds)
    slab_k = rise_slab_k(material, flux_w_m2, thickness_mm, seconds)
    return PanelRise(max(half_space_k, slab_k), rise_half_space_k=half_space_k, rise_slab_k=slab_k)


def rise_lumped_k(
    material: Material, flux_w_m2: float, thickness_mm: float, seconds: float
) -> float:
    """Return the rise of thin sheet warm all through, ``ΔT = q t/(ρ c δ)``."""
    return flux_w_m2 * seconds / material.areal_j_m2_k(thickness_mm)


def rise_half_space_k(material: Material, flux_w_m2: float, seconds: float) -> float:
    """Return the surface rise of a thick poor conductor, ``ΔT = 2 q √(α t/π)/k``.

    Constant flux on a semi-infinite solid: Carslaw & Jaeger 1959, Conduction
    of Heat in Solids, 2nd ed., section 2.9.
    """
    depth_m = sqrt(material.diffusivity_m2_s * seconds / pi)
    return 2.0 * flux_w_m2 * depth_m / material.conductivity_w_m_k


def rise_slab_k(material: Material, flux_w_m2: float, thickness_mm: float, seconds: float) -> float:
    """Return the surface rise of a sheet whose back is insulated.

    Carslaw & Jaeger 1959, section 3.8: with ``Fo = α t/δ²``
    ``ΔT = (q δ/k) [Fo + 1/3 − (2/π²) Σ exp(−n² π² Fo)/n²]``.
    At short times that series is slow and the reflections from the back,
    ``(2 q √(α t)/k) [1/√π + 2 Σ ierfc(n δ/√(α t))]``, say the same in one term.
    """
    thickness_m = thickness_mm / MM_PER_M
    fourier = material.diffusivity_m2_s * seconds / thickness_m**2
    scale_k = flux_w_m2 * thickness_m / material.conductivity_w_m_k
    if fourier < FOURIER_NUMBER_OF_CHANGE:
        return scale_k * _reflections(fourier)
    return scale_k * _cosines(fourier)


def _cosines(fourier: float) -> float:
    series = sum(exp(-((n * pi) ** 2) * fourier) / n**2 for n in range(1, TERMS + 1))
    return fourier + 1.0 / 3.0 - 2.0 / pi**2 * series


def _reflections(fourier: float) -> float:
    root = sqrt(fourier)
    if root == 0.0:
        return 0.0
    reflected = sum(_ierfc(n / root) for n in range(1, TERMS + 1))
    return 2.0 * root * (1.0 / sqrt(pi) + 2.0 * reflected)


def _ierfc(x: float) -> float:
    """Return the first repeated integral of erfc (Abramowitz & Stegun 1964, 7.2.5)."""
    # The two terms cancel to nothing beyond here; what is left would be rounding.
    return 0.0 if x > 8.0 else exp(-x * x) / sqrt(pi) - x * erfc(x)


def fraction_left(heated_s: float, waited_s: float) -> float:
    """Return the share of the rise still there ``waited_s`` after heating ended.

    ``(√(t₀ + Δ) − √Δ)/√t₀`` on a thick poor conductor, by superposing a cold
    flux from the end of heating; written so that long waits do not cancel.
    """
    return sqrt(heated_s) / (sqrt(heated_s + waited_s) + sqrt(waited_s))


def metal_catches_up_s(metal: Material, thickness_mm: float, plastic: Material) -> float:
    """Return when a thin metal panel is as warm as a plastic one under the same flux.

    Before it the plastic's surface is the hotter: that is why plastic burns first.
    """
    areal = metal.areal_j_m2_k(thickness_mm)
    root = 2.0 * areal * sqrt(plastic.diffusivity_m2_s / pi) / plastic.conductivity_w_m_k
    return root**2


def share_into_paint(paint: Material, pad: Material) -> float:
    """Return the share of friction heat that enters the paint, by effusivity.

    Two half-spaces in contact share heat as their effusivities (Carslaw &
    Jaeger 1959, section 2.15); vapour and air around the pad are left out.
    """
    return paint.effusivity / (paint.effusivity + pad.effusivity)


def film_drop_k(film: Material, flux_w_m2: float, film_um: float) -> float:
    """Return the steady drop across the paint film, ``q δ/k``."""
    return flux_w_m2 * film_um * 1e-6 / film.conductivity_w_m_k


def film_response_s(film: Material, film_um: float) -> float:
    """Return how long the film takes to follow, ``δ²/α``."""
    return (film_um * 1e-6) ** 2 / film.diffusivity_m2_s


def rise_of_section_k(
    metal: Material, power_w: float, thickness_mm: float, section_mm: float, seconds: float
) -> float:
    """Return the mean rise of a square section worked by a moving pad."""
    area_m2 = (section_mm / MM_PER_M) ** 2
    return rise_lumped_k(metal, power_w / area_m2, thickness_mm, seconds)


def steady_rise_k(power_w: float, section_mm: float, loss_w_m2_k: float = 10.0) -> float:
    """Return the rise at which a section loses, from both faces, all it gets.

    10 W/(m² K) a face is the usual round value for still air; no loss is no limit.
    """
    lost_w_k = 2.0 * loss_w_m2_k * (section_mm / MM_PER_M) ** 2
    return power_w / lost_w_k if lost_w_k > 0.0 else inf


def cooling_time_s(metal: Material, thickness_mm: float, loss_w_m2_k: float = 10.0) -> float:
    """Return the time in which a panel loses 63 % of its rise, ``ρ c δ/(2 h)``."""
    return metal.areal_j_m2_k(thickness_mm) / (2.0 * loss_w_m2_k)
