"""Conversions as a calculation."""

from __future__ import annotations

from decimal import Decimal
from typing import Literal, Self

from pydantic import model_validator

from academy.calculations.inputs import Inputs, Written, fault, quantity
from academy.calculations.registry import Calculation
from academy.domain.units import UNITS, BelowAbsoluteZero, UnlikeUnits, converted

UnitName = Literal[
    "um", "mil", "nm", "mm", "in", "C", "F", "N", "kgf", "lbf", "m/s", "ft/min", "ml", "fl_oz"
]


class ConvertInputs(Inputs):
    value: Written = quantity("the value to convert, in the unit `from`")
    from_unit: UnitName = quantity("the unit it is in", alias="from")
    to_unit: UnitName = quantity("the unit wanted, of the same quantity", alias="to")

    @model_validator(mode="after")
    def _like_units(self) -> Self:
        try:
            converted(self.value, self.from_unit, self.to_unit)
        except UnlikeUnits as error:
            wanted = UNITS[self.from_unit].quantity
            allowed = ", ".join(name for name, unit in UNITS.items() if unit.quantity == wanted)
            raise fault("to", f"{error}; allowed with {self.from_unit}: {allowed}") from None
        except BelowAbsoluteZero as error:
            raise fault("value", str(error)) from None
        return self


def _convert(inputs: ConvertInputs) -> dict[str, object]:
    value: Decimal = inputs.value
    return {"value": converted(value, inputs.from_unit, inputs.to_unit)}


CALCULATIONS = (
    Calculation(
        name="convert",
        inputs=ConvertInputs,
        compute=_convert,
        formula="value × (unit `from` in base units) / (unit `to` in base units), exact ratios; °C = (°F − 32) × 5/9",
        source="Definitions: inch 25.4 mm; kilogram-force 9.80665 N; pound 0.45359237 kg; US gallon 231 cubic inches. Fluid ounces are US.",
        caution="Do not convert a limit and round it: keep the limit in the unit it was written in.",
        units={"value": "as `to`"},
    ),
)
