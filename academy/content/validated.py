"""Front matter against its schema, each fault a sentence at its own line."""

from __future__ import annotations

import json
from collections.abc import Sequence
from typing import Any, TypeVar

from pydantic import BaseModel, ValidationError
from pydantic_core import ErrorDetails

from academy.content.matter import Located
from academy.content.problems import Problems

M = TypeVar("M", bound=BaseModel)

_EXPECTED = {
    "int_type": "a whole number",
    "int_from_float": "a whole number",
    "int_parsing": "a whole number",
    "float_type": "a number",
    "finite_number": "a number",
    "string_type": "text",
    "bool_type": "true or false",
    "list_type": "a list",
    "dict_type": "lines of `name: value`",
    "model_type": "lines of `name: value`",
    "model_attributes_type": "lines of `name: value`",
}


def validated(model: type[M], located: Located, problems: Problems) -> M | None:
    """Return the front matter as its model, or None with every fault noted.

    Checked by way of JSON: strict types, and yet lists and words of a closed
    vocabulary are taken as the author wrote them.
    """
    try:
        return model.model_validate_json(json.dumps(_plain(located.value)))
    except ValidationError as faults:
        for fault in faults.errors(include_url=False):
            _note(model, located, fault, problems)
        return None


def _plain(value: Any) -> Any:
    # YAML reads dates and sets where an author wrote something that looks like one.
    if isinstance(value, dict):
        return {
            key if isinstance(key, (str, int)) else str(key): _plain(item)
            for key, item in value.items()
        }
    if isinstance(value, list):
        return [_plain(item) for item in value]
    return value if isinstance(value, (str, int, float, bool, type(None))) else str(value)


def _note(
    model: type[BaseModel], located: Located, fault: ErrorDetails, problems: Problems
) -> None:
    trail = [part for part in fault["loc"] if part != "[key]"]
    if "[key]" in fault["loc"]:
        trail = list(fault["loc"][: fault["loc"].index("[key]")])
    trail = _known_part(located, trail)
    name = ".".join(map(str, trail)) or "the front matter"
    place = located.place(trail[:-1] if fault["type"] == "missing" else trail)
    problems.error(
        place, "%(name)s %(fault)s", name=f"`{name}`", fault=_sentence(model, fault, trail)
    )


def _known_part(located: Located, trail: Sequence[Any]) -> list[Any]:
    # A union names its members in the path (`key.list[int].0`); they are no part of the file.
    return [part for part in trail if "[" not in str(part) and part not in ("int", "float")]


def _sentence(model: type[BaseModel], fault: ErrorDetails, trail: Sequence[Any]) -> str:
    kind = fault["type"]
    context = fault.get("ctx", {})
    if kind == "missing":
        return "is missing"
    if kind == "extra_forbidden":
        return f"is not known here{_known_names(model, trail)}"
    given = json.dumps(fault["input"], ensure_ascii=False, default=str)
    given = given if len(given) <= 40 else f"{given[:37]}..."
    if kind in _EXPECTED:
        return f"is {given}; {_EXPECTED[kind]} is expected"
    if kind in ("enum", "literal_error"):
        return f"is {given}; expected is {context['expected']}".replace("'", "")
    if kind == "string_pattern_mismatch":
        return f"is {given}; expected is the form {context['pattern']}"
    if kind in ("string_too_short", "too_short"):
        return "is empty or too short"
    return f"is {given}; {fault['msg'].replace('Input should', 'it should')}"


def _known_names(model: type[BaseModel], trail: Sequence[Any]) -> str:
    if len(trail) != 1:
        return ""
    names = [field.alias or name for name, field in model.model_fields.items()]
    return f"; known are {', '.join(names)}"
