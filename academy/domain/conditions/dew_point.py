"""When moisture settles on a panel.

A coating is laid only on a panel clearly warmer than the dew point of the
air over it.  The margin of 3 kelvin comes from painting steel, to which
trade pages attribute it (ISO 8502-4); its use for car coatings is ours, and
the coating's own data sheet goes before it.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import exp, log

from academy.domain.sentences import TradeError

# Magnus coefficients over water, −40 to 50 °C: Alduchov & Eskridge 1996,
# Journal of Applied Meteorology 35, 601.
MAGNUS = 17.625
MAGNUS_C = 243.04
SATURATION_AT_ZERO_HPA = 6.1094

MARGIN_K = 3.0
STANDARD_PRESSURE_HPA = 1013.25
# The thermometers read to a tenth, so a margin short by rounding is not short.
ROUNDING_K = 1e-9


@dataclass(eq=False)
class AirDrierThanTheThermometers(TradeError):
    """The wet bulb is so far below the dry one that no vapour would be left."""

    template = (
        "a wet bulb of %(wet_bulb_c)g °C at %(air_c)g °C leaves no moisture in the air: "
        "check that the wick is wet and the air moves"
    )
    air_c: float
    wet_bulb_c: float


@dataclass(frozen=True, slots=True)
class PanelMargin:
    """How far a panel is above the dew point, and whether that is enough."""

    margin_k: float
    needed_k: float = MARGIN_K

    @property
    def enough(self) -> bool:
        """Whether the panel may be coated as far as the dew point goes; equal is enough."""
        return self.margin_k >= self.needed_k - ROUNDING_K


def dew_point_c(air_c: float, rh_percent: float) -> float:
    """Return the dew point by Magnus, ``T_d = c γ/(b − γ)``, ``γ = ln(RH/100) + b T/(c + T)``.

    b = 17.625, c = 243.04 °C (Alduchov & Eskridge 1996), within 0.4 % of the
    vapour pressure from −40 to 50 °C.
    """
    return _dew_point_at(log(rh_percent / 100.0) + MAGNUS * air_c / (MAGNUS_C + air_c))


def saturation_hpa(air_c: float) -> float:
    """Return the vapour pressure of saturated air, ``6.1094 exp(b T/(c + T))`` hPa."""
    return SATURATION_AT_ZERO_HPA * exp(MAGNUS * air_c / (MAGNUS_C + air_c))


def dew_point_from_wet_bulb_c(
    air_c: float, wet_bulb_c: float, pressure_hpa: float = STANDARD_PRESSURE_HPA
) -> float:
    """Return the dew point from a whirled or fan-drawn pair of thermometers.

    ``e = e_s(T_w) − 0.00066 (1 + 0.00115 T_w) P (T − T_w)``, the psychrometer
    equation with Ferrel's coefficient (1886), from memory.
    Raises AirDrierThanTheThermometers.
    """
    coefficient = 0.00066 * (1.0 + 0.00115 * wet_bulb_c)
    vapour_hpa = saturation_hpa(wet_bulb_c) - coefficient * pressure_hpa * (air_c - wet_bulb_c)
    if not vapour_hpa > 0.0:
        raise AirDrierThanTheThermometers(air_c, wet_bulb_c)
    return _dew_point_at(log(vapour_hpa / SATURATION_AT_ZERO_HPA))


def dew_point_by_thumb_c(air_c: float, rh_percent: float) -> float:
    """Return the rule of thumb ``T − (100 − RH)/5``, within 1.6 °C at 5 to 30 °C and above 50 %."""
    return air_c - (100.0 - rh_percent) / 5.0


def panel_margin(panel_c: float, dew_c: float, needed_k: float = MARGIN_K) -> PanelMargin:
    """Return a panel's margin over the dew point."""
    return PanelMargin(panel_c - dew_c, needed_k)


def _dew_point_at(gamma: float) -> float:
    return MAGNUS_C * gamma / (MAGNUS - gamma)
