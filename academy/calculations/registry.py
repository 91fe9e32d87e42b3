"""The registry's types: a calculation, its answer, and the three ways it can fail.

One registry feeds ``academy calc``, the calculators page and the numbers in
lessons, so that they cannot disagree.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Any, ClassVar

from pydantic import ValidationError

from academy.calculations.catalogue import CATALOGUE
from academy.calculations.faults import fault_lines
from academy.calculations.inputs import Inputs
from academy.domain.sentences import Sentence, TradeError


@dataclass(eq=False)
class UnknownCalculation(TradeError):
    """No calculation has this name."""

    template: ClassVar[str] = "there is no calculation named %(name)s; 'academy calc' lists them"
    name: str


@dataclass(eq=False)
class BadInput(TradeError):
    """The inputs are not what the calculation takes: one line for each fault."""

    template: ClassVar[str] = "%(lines)s"
    faults: tuple[str, ...]

    def fields(self) -> dict[str, object]:
        return {"lines": "\n".join(self.faults)}


@dataclass(eq=False)
class NotComputable(TradeError):
    """The inputs are well formed, but no number follows from them."""

    template: ClassVar[str] = "%(reason)s"
    reason: Sentence | str


@dataclass(frozen=True, slots=True)
class Calculation:
    """One computation with what a reader needs to check it.

    `compute` takes an instance of `inputs` and returns the result's values;
    a `TradeError` it raises means "not computable".  `units` names the unit
    of each result key that has one.
    """

    name: str
    inputs: type[Inputs]
    compute: Callable[[Any], Mapping[str, object]]
    formula: str
    source: str
    caution: str
    units: Mapping[str, str] = field(default_factory=dict)

    @property
    def says(self) -> str:
        """The one line about it in the list of calculations."""
        return CATALOGUE[self.name].says


@dataclass(frozen=True, slots=True)
class Answer:
    """A calculation's result beside everything it was computed from."""

    name: str
    inputs: Mapping[str, object]
    result: Mapping[str, object]
    units: Mapping[str, str]
    formula: str
    source: str
    caution: str

    def as_json_object(self) -> dict[str, object]:
        """Return the answer as the object that ``academy calc`` prints."""
        return {
            "name": self.name,
            "inputs": dict(self.inputs),
            "result": dict(self.result),
            "units": dict(self.units),
            "formula": self.formula,
            "source": self.source,
            "caution": self.caution,
        }


def answer(calculation: Calculation, inputs: Mapping[str, object]) -> Answer:
    """Check `inputs`, compute, and return the answer.

    Raises
    ------
    BadInput
        a field is missing, unknown, of the wrong kind or out of range
    NotComputable
        no finite number follows from these inputs
    """
    try:
        checked = calculation.inputs.model_validate(inputs)
    except ValidationError as error:
        raise BadInput(fault_lines(error, inputs)) from None
    result = _computed(calculation, checked)
    return Answer(
        name=calculation.name,
        inputs=checked.model_dump(mode="json", by_alias=True),
        result=result,
        units=calculation.units,
        formula=calculation.formula,
        source=calculation.source,
        caution=calculation.caution,
    )


def _computed(calculation: Calculation, checked: Inputs) -> Mapping[str, object]:
    try:
        result = calculation.compute(checked)
    except TradeError as reason:
        raise NotComputable(reason) from None
    except (OverflowError, ZeroDivisionError, FloatingPointError):
        raise NotComputable("these numbers are too large or too small to compute with") from None
    for key, value in result.items():
        if _holds_no_number(value):
            raise NotComputable(f"{key} has no finite value for these inputs")
    return result


def _holds_no_number(value: object) -> bool:
    if isinstance(value, float):
        return not math.isfinite(value)
    if isinstance(value, Mapping):
        return any(_holds_no_number(part) for part in value.values())
    return isinstance(value, (list, tuple)) and any(_holds_no_number(part) for part in value)
