"""The NIST Statistical Reference Datasets that stand in ``data/``, written out in full."""

from __future__ import annotations

import json
import math
from decimal import Decimal
from pathlib import Path
from typing import Any

DATA = Path(__file__).parent / "data"


def digits_of_agreement(value: float, certified: str) -> float:
    """Return −log₁₀ of the relative error, 17 where the two agree to the last binary digit."""
    if value == float(certified):
        return 17.0
    error = abs((Decimal(value) - Decimal(certified)) / Decimal(certified))
    return -math.log10(error)


def univariate(name: str) -> tuple[list[str], dict[str, str]]:
    """Return a set's values as decimal texts and its certified results."""
    kept = _set("nist_univariate.json", name)
    data = kept["data"]
    if isinstance(data, dict):
        low, high = data["then_alternate"]
        pairs = (data["n"] - 1) // 2
        data = [data["first"], *[low, high] * pairs]
    return data, kept["certified"]


def one_way_groups(name: str) -> tuple[list[list[str]], dict[str, Any]]:
    """Return a set's groups as decimal texts and its certified results."""
    kept = _set("nist_anova.json", name)
    data = kept["data"]
    if "generator" not in data:
        return list(data.values()), kept["certified"]
    firsts = [Decimal(data["integer_part"]) + Decimal(step) for step in data["dec"]]
    return [_treatment(first, data["replicates"]) for first in firsts], kept["certified"]


def _treatment(first: Decimal, replicates: int) -> list[str]:
    pair = [str(first - Decimal("0.1")), str(first + Decimal("0.1"))]
    return [str(first), *pair * ((replicates - 1) // 2)]


def _set(file: str, name: str) -> dict[str, Any]:
    kept: dict[str, Any] = json.loads((DATA / file).read_text(encoding="utf-8"))["sets"][name]
    return kept
