"""Heat properties of what lies under the pad, and of the pad itself.

Rounded handbook values of the kind; a given grade differs by a tenth and
more.  ABS and the acrylic that stands for clear coat were read in such
tables; the metals, polypropylene and foam are from memory of them.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum
from math import sqrt


@dataclass(frozen=True, slots=True)
class Material:
    """Conductivity, density and heat capacity, in SI units."""

    conductivity_w_m_k: float
    density_kg_m3: float
    heat_capacity_j_kg_k: float

    @property
    def volumetric_j_m3_k(self) -> float:
        """Heat to warm a cubic metre by a kelvin, ρ c."""
        return self.density_kg_m3 * self.heat_capacity_j_kg_k

    @property
    def diffusivity_m2_s(self) -> float:
        """How quickly warmth spreads, ``α = k/(ρ c)``."""
        return self.conductivity_w_m_k / self.volumetric_j_m3_k

    @property
    def effusivity(self) -> float:
        """How readily it takes heat up, ``√(k ρ c)``, in W s^½ m⁻² K⁻¹."""
        return sqrt(self.conductivity_w_m_k * self.volumetric_j_m3_k)

    def areal_j_m2_k(self, thickness_mm: float) -> float:
        """Heat to warm a square metre of sheet by a kelvin, ``ρ c δ``."""
        return self.volumetric_j_m3_k * thickness_mm / 1000.0


STEEL = Material(50.0, 7850.0, 470.0)
ALUMINIUM = Material(150.0, 2700.0, 900.0)
CLEAR_COAT = Material(0.20, 1180.0, 1500.0)
ABS = Material(0.25, 1040.0, 1300.0)
POLYPROPYLENE = Material(0.20, 905.0, 2000.0)
FOAM = Material(0.035, 50.0, 1500.0)


class PanelMaterial(Enum):
    """What the panel under the paint is made of."""

    STEEL = "steel"
    ALUMINIUM = "aluminium"
    ABS = "abs"
    PP = "pp"

    @property
    def properties(self) -> Material:
        """The heat properties of this panel material."""
        return _PROPERTIES[self]

    @property
    def is_metal(self) -> bool:
        """Whether heat runs through the sheet at once (metal) or stays at the face (plastic)."""
        return self in (PanelMaterial.STEEL, PanelMaterial.ALUMINIUM)


_PROPERTIES = {
    PanelMaterial.STEEL: STEEL,
    PanelMaterial.ALUMINIUM: ALUMINIUM,
    PanelMaterial.ABS: ABS,
    PanelMaterial.PP: POLYPROPYLENE,
}
