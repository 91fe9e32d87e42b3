"""Every calculation by name, with the module that holds it and one line about it.

Kept apart from the calculations themselves so that the list of names costs no
import: ``academy calc`` prints this table, ``academy calc convert`` imports
one module of it.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

MODULES: Mapping[str, Mapping[str, str]] = {
    "units": {
        "convert": "a value in another unit: thickness, temperature, force, speed, volume",
    },
}


@dataclass(frozen=True, slots=True)
class Entry:
    """Where a calculation lives (below ``academy.calculations``) and what it says."""

    name: str
    module: str
    says: str


def _entries() -> dict[str, Entry]:
    return {
        name: Entry(name, module, says) for module, calculations in MODULES.items() for name, says in calculations.items()
    }


CATALOGUE: Mapping[str, Entry] = MappingProxyType(_entries())
