"""Inputs from texts: the query of a link in a lesson, the fields of a form."""

from __future__ import annotations

import json
from collections.abc import Mapping

from academy.calculations.catalogue import CATALOGUE
from academy.calculations.registry import Answer, UnknownCalculation


def inputs_from_texts(texts: Mapping[str, str]) -> dict[str, object]:
    """Read each text as JSON where it is JSON (``21``, ``[1, 2]``, ``true``), else as a word; blank ones are left out."""
    return {name: _value(text.strip()) for name, text in texts.items() if text.strip()}


def run_texts(name: str, texts: Mapping[str, str]) -> Answer:
    """Compute from texts; raises what ``academy.calculations.run`` raises."""
    from academy.calculations import run

    if name not in CATALOGUE:
        raise UnknownCalculation(name)
    return run(name, inputs_from_texts(texts))


def _value(text: str) -> object:
    try:
        return json.loads(text, parse_constant=str)
    except (ValueError, RecursionError):
        return text
