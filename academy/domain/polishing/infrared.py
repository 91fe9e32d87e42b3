"""What an infrared thermometer shows when its emissivity setting is wrong.

A grey body sends ``ε σ T⁴`` and reflects ``(1 − ε) σ T_s⁴`` of its
surroundings; the instrument solves the same sum with the emissivity it was
set to.  Bare metal therefore reads nearly the room, however hot it is.
"""

from __future__ import annotations

ZERO_CELSIUS_K = 273.15


def infrared_reading_c(
    surface_c: float, emissivity: float, set_emissivity: float, surroundings_c: float = 20.0
) -> float:
    """Return the shown temperature from ``ε T⁴ + (1−ε) T_s⁴ = ε_set T_r⁴ + (1−ε_set) T_s⁴``.

    Whole-spectrum radiation (Stefan and Boltzmann); a real instrument sees a
    band, which makes its error on bare metal differ somewhat.
    """
    surface = (surface_c + ZERO_CELSIUS_K) ** 4
    surroundings = (surroundings_c + ZERO_CELSIUS_K) ** 4
    seen = emissivity * surface + (set_emissivity - emissivity) * surroundings
    return float((seen / set_emissivity) ** 0.25) - ZERO_CELSIUS_K
