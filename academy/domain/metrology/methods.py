"""Which gauge reads paint on which substrate.

ASTM D7091-05 clauses 1.2 to 1.6; ISO 2178:2016 and ISO 2360:2017 scopes (read).
"""

from __future__ import annotations

from enum import Enum, StrEnum


class Substrate(Enum):
    """What the paint stands on."""

    STEEL = "steel"
    ALUMINIUM = "aluminium"
    PLASTIC = "plastic"


class GaugeMethod(StrEnum):
    """How a thickness gauge works."""

    MAGNETIC = "magnetic"
    EDDY_CURRENT = "eddy current"
    ULTRASONIC = "ultrasonic"


METHOD_BY_SUBSTRATE = {
    Substrate.STEEL: GaugeMethod.MAGNETIC,
    Substrate.ALUMINIUM: GaugeMethod.EDDY_CURRENT,
    # Neither magnetic nor eddy current reads on plastic; D7091 names ultrasonic (ASTM D6132).
    Substrate.PLASTIC: GaugeMethod.ULTRASONIC,
}


def method_suits(method: GaugeMethod, substrate: Substrate) -> bool:
    """Say whether a gauge of this method reads true on this substrate.

    Eddy current on steel is not recommended by ISO 2360:2017.
    """
    return METHOD_BY_SUBSTRATE[substrate] is method
