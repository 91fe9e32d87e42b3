"""The calculations by name; a calculation's module is imported when it is asked for."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from importlib import import_module

from academy.calculations.catalogue import CATALOGUE, Entry
from academy.calculations.registry import (
    Answer,
    BadInput,
    Calculation,
    NotComputable,
    UnknownCalculation,
    answer,
)

__all__ = [
    "CALCULATIONS",
    "CATALOGUE",
    "Answer",
    "BadInput",
    "Calculation",
    "Entry",
    "NotComputable",
    "UnknownCalculation",
    "run",
]


class LazyCalculations(Mapping[str, Calculation]):
    """The table of calculations; listing it imports nothing, looking one up imports its module."""

    def __getitem__(self, name: str) -> Calculation:
        module = import_module(f"academy.calculations.{CATALOGUE[name].module}")
        found: tuple[Calculation, ...] = module.CALCULATIONS
        return next(calculation for calculation in found if calculation.name == name)

    def __iter__(self) -> Iterator[str]:
        return iter(CATALOGUE)

    def __len__(self) -> int:
        return len(CATALOGUE)

    def __contains__(self, name: object) -> bool:
        return name in CATALOGUE


CALCULATIONS: Mapping[str, Calculation] = LazyCalculations()


def run(name: str, inputs: Mapping[str, object]) -> Answer:
    """Compute `name` from `inputs`; raises UnknownCalculation, BadInput or NotComputable."""
    if name not in CATALOGUE:
        raise UnknownCalculation(name)
    return answer(CALCULATIONS[name], inputs)
