"""Faults in the inputs, one line each: the field, what was given, what is allowed."""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from typing import Any

from pydantic import ValidationError
from pydantic_core import ErrorDetails

LONGEST_SHOWN = 60

SENTENCES = {
    "greater_than": "%(given)s is not above %(gt)s",
    "greater_than_equal": "%(given)s is not at least %(ge)s",
    "less_than": "%(given)s is not below %(lt)s",
    "less_than_equal": "%(given)s is not at most %(le)s",
    "float_type": "%(given)s is not a number",
    "int_type": "%(given)s is not a whole number",
    "int_from_float": "%(given)s is not a whole number",
    "int_parsing_size": "%(given)s is too large a whole number",
    "bool_type": "%(given)s is not true or false",
    "string_type": "%(given)s is not a text",
    "list_type": "%(given)s is not a list",
    "model_type": "%(given)s is not an object with named values",
    "model_attributes_type": "%(given)s is not an object with named values",
    "dict_type": "%(given)s is not an object with named values",
    "finite_number": "%(given)s is not a finite number",
    "literal_error": "%(given)s is not one of %(expected)s",
    "too_short": "%(actual_length)s given; at least %(min_length)s needed",
    "too_long": "%(actual_length)s given; at most %(max_length)s allowed",
    "string_too_short": "%(given)s is shorter than %(min_length)s letters",
    "string_too_long": "%(given)s is longer than %(max_length)s letters",
    "missing": "missing, and needed",
    "extra_forbidden": "not an input here; %(given)s was given",
    "decimal": "%(given)s %(msg)s",
    "fault": "%(sentence)s",
}


def fault_lines(error: ValidationError, inputs: object) -> tuple[str, ...]:
    """Return one line for each fault pydantic found in `inputs`."""
    return tuple(_line(detail, inputs) for detail in error.errors(include_url=False))


def shown(value: object) -> str:
    """Return a value as JSON text, cut short where it is long."""
    try:
        text = json.dumps(value, ensure_ascii=False)
    except (TypeError, ValueError):
        text = str(value)
    return text if len(text) <= LONGEST_SHOWN else text[: LONGEST_SHOWN - 1] + "…"


def _line(detail: ErrorDetails, inputs: object) -> str:
    context: dict[str, Any] = dict(detail.get("ctx", {}))
    field = str(context.pop("field", ""))
    path = ".".join(part for part in (_path(detail["loc"], inputs), field) if part) or "input"
    for limit in ("gt", "ge", "lt", "le"):
        if isinstance(context.get(limit), float):
            context[limit] = f"{context[limit]:.15g}"
    if detail["type"] == "literal_error":
        context["expected"] = context["expected"].replace("'", "").replace(" or ", ", ")
    values = {**context, "given": shown(detail["input"]), "msg": detail["msg"]}
    return f"{path}: {SENTENCES.get(detail['type'], '%(given)s: %(msg)s') % values}"


def _path(location: Sequence[int | str], inputs: object) -> str:
    """Write a place as ``spots[3].after_um``.

    The index is dropped where a single number was given for a list of one.
    """
    path, here = "", inputs
    for step in location:
        if isinstance(step, int) and not isinstance(here, (list, tuple)):
            continue
        path += f"[{step}]" if isinstance(step, int) else f".{step}" if path else step
        here = _below(here, step)
    return path


def _below(here: object, step: int | str) -> object:
    if isinstance(here, Mapping) and isinstance(step, str):
        return here.get(step)
    if isinstance(here, (list, tuple)) and isinstance(step, int) and step < len(here):
        return here[step]
    return None
