"""The help of one calculation: inputs with units and ranges, results, formula, source, caution."""

from __future__ import annotations

import json
from collections.abc import Iterator
from textwrap import wrap

from academy.calculations.described import InputField, described_inputs
from academy.calculations.registry import Calculation

WIDTH = 96


def help_text(calculation: Calculation) -> str:
    """Return the help as plain text."""
    lines = [
        f"Usage: academy calc {calculation.name} (--json '{{...}}' | --file FILE | -)",
        "",
        f"  {calculation.name}: {calculation.says}.",
        "",
        "Inputs:",
    ]
    for field in described_inputs(calculation):
        lines += _field_lines(field)
    if calculation.units:
        lines += ["", "Units of the result:"]
        lines += [f"  {key}: {unit}" for key, unit in calculation.units.items()]
    for title, text in (
        ("Formula", calculation.formula),
        ("Source", calculation.source),
        ("Caution", calculation.caution),
    ):
        lines += ["", f"{title}:", *_wrapped(text, "  ")]
    return "\n".join(lines)


def _field_lines(field: InputField) -> Iterator[str]:
    yield f"  {field.path}{f' [{field.unit}]' if field.unit else ''}"
    yield from _wrapped(f"{field.says}{_rules(field)}", "      ")


def _rules(field: InputField) -> str:
    rules = [field.allowed] if field.allowed else []
    if field.choices:
        rules.append("one of " + ", ".join(field.choices))
    if not field.required:
        rules.append(
            "optional" if field.default is None else f"default {json.dumps(field.default)}"
        )
    return f" ({'; '.join(rules)})" if rules else ""


def _wrapped(text: str, indent: str) -> list[str]:
    return wrap(text, WIDTH, initial_indent=indent, subsequent_indent=indent)
