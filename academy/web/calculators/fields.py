"""The fields of a calculation as a form has them: simple ones, parts, and rows."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from enum import Enum, auto

from academy.calculations.described import InputField, described_inputs
from academy.calculations.registry import Calculation


class Kind(Enum):
    """How a field is filled in."""

    NUMBER = auto()
    NUMBERS = auto()
    CHOICE = auto()
    YES_NO = auto()
    PART = auto()
    ROWS = auto()


@dataclass(frozen=True, slots=True)
class Field:
    """One input; a part and the rows of a list have fields of their own."""

    name: str
    kind: Kind
    described: InputField
    fields: tuple[Field, ...] = ()


def fields_of(calculation: Calculation) -> tuple[Field, ...]:
    """Return the calculation's fields in their order."""
    described = described_inputs(calculation)
    return tuple(_under("", described))


def _under(prefix: str, described: tuple[InputField, ...]) -> Iterator[Field]:
    for one in described:
        rest = one.path.removeprefix(prefix)
        if not one.path.startswith(prefix) or "." in rest:
            continue
        inner = f"{one.path}[]." if one.listed else f"{one.path}."
        fields = tuple(_under(inner, described))
        yield Field(rest, _kind(one, fields), one, fields)


def _kind(one: InputField, fields: tuple[Field, ...]) -> Kind:
    if fields:
        return Kind.ROWS if one.listed else Kind.PART
    if one.listed:
        return Kind.NUMBERS
    if isinstance(one.default, bool):
        return Kind.YES_NO
    return Kind.CHOICE if one.choices else Kind.NUMBER
