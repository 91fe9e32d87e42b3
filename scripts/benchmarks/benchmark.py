"""One benchmark and what it found."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from importlib import import_module
from types import ModuleType
from typing import Literal


@dataclass(frozen=True, slots=True)
class Finding:
    """The measured value against its limit; `conditions` have to hold as well.

    `limit` is None where nothing is asked of the value.
    """

    value: float
    unit: str
    limit: float | None
    direction: Literal["at most", "at least"]
    detail: Mapping[str, object]
    conditions: Mapping[str, bool] = field(default_factory=dict)

    @property
    def ok(self) -> bool:
        """Whether limit and conditions are met."""
        if not all(self.conditions.values()):
            return False
        if self.limit is None:
            return True
        return self.value <= self.limit if self.direction == "at most" else self.value >= self.limit

    def as_json_object(self, name: str) -> dict[str, object]:
        """Return the finding as it stands in the file of results."""
        return {
            "name": name,
            "value": self.value,
            "unit": self.unit,
            "limit": self.limit,
            "direction": self.direction,
            "ok": self.ok,
            "detail": {**self.detail, "conditions": dict(self.conditions)},
        }


@dataclass(frozen=True, slots=True)
class Benchmark:
    """A name, one line about it, and the function that measures."""

    name: str
    says: str
    measure: Callable[[], Finding]


class PeerMissing(Exception):
    """A library that is measured against is not installed."""


def peer(name: str) -> ModuleType:
    """Return a library that we are measured against.

    Raises
    ------
    PeerMissing
        in a sentence
    """
    try:
        return import_module(name)
    except ImportError:
        raise PeerMissing(
            f"{name}, which this is measured against, is not installed; "
            "tests/requirements.lock pins it and 'python3 scripts/bench.py' installs it."
        ) from None
