"""A calculation's inputs in words: for ``--help``, the calculators page and lessons."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any, get_args, get_origin

import annotated_types
from pydantic import BaseModel
from pydantic.fields import FieldInfo

from academy.calculations.inputs import Inputs
from academy.calculations.registry import Calculation

LIMIT_WORDS = (
    (annotated_types.Gt, "gt", "above"),
    (annotated_types.Ge, "ge", "from"),
    (annotated_types.Lt, "lt", "below"),
    (annotated_types.Le, "le", "to"),
)


@dataclass(frozen=True, slots=True)
class Bounds:
    """The range of a number, or of each number of a list; None where it has no end."""

    above: float | None = None
    least: float | None = None
    below: float | None = None
    most: float | None = None


@dataclass(frozen=True, slots=True)
class InputField:
    """One input: its path (``spots[].before_um``), what it is, unit, range, choices and default."""

    path: str
    says: str
    unit: str
    allowed: str
    choices: tuple[str, ...]
    required: bool
    default: object
    listed: bool
    bounds: Bounds = Bounds()
    whole: bool = False


def described_inputs(calculation: Calculation) -> tuple[InputField, ...]:
    """Return the inputs in the order they are declared, parts of an object after it."""
    return tuple(_fields(calculation.inputs, ""))


def _fields(model: type[BaseModel], prefix: str) -> Iterator[InputField]:
    for name, info in model.model_fields.items():
        path = prefix + (info.alias or name)
        part = _part(info.annotation)
        listed = _is_list(info.annotation)
        yield _described(path, info, listed)
        if part is not None:
            yield from _fields(part, f"{path}[]." if listed else f"{path}.")


def _described(path: str, info: FieldInfo, listed: bool) -> InputField:
    extra = info.json_schema_extra if isinstance(info.json_schema_extra, Mapping) else {}
    return InputField(
        path=path,
        says=info.description or "",
        unit=str(extra.get("unit", "")),
        allowed=_allowed(info, listed),
        choices=_choices(info.annotation),
        required=info.is_required(),
        default=None if info.is_required() else info.default,
        listed=listed,
        bounds=_bounds(info),
        whole=info.annotation is int,
    )


def _bounds(info: FieldInfo) -> Bounds:
    limits = (*info.metadata, *_inner_limits(info.annotation))
    ends = [
        next((float(getattr(x, attribute)) for x in limits if isinstance(x, kind)), None)
        for kind, attribute, _word in LIMIT_WORDS
    ]
    return Bounds(*ends)


def _allowed(info: FieldInfo, listed: bool) -> str:
    """Return the range in words: ``above 0, to 100; 1 to 1000 of them``."""
    limits = (*info.metadata, *_inner_limits(info.annotation))
    bounds = [
        f"{word} {getattr(limit, attribute):.12g}"
        for kind, attribute, word in LIMIT_WORDS
        for limit in limits
        if isinstance(limit, kind)
    ]
    return "; ".join(part for part in (", ".join(bounds), _count(limits) if listed else "") if part)


def _count(limits: tuple[Any, ...]) -> str:
    least = next((x.min_length for x in limits if isinstance(x, annotated_types.MinLen)), 0)
    most = next((x.max_length for x in limits if isinstance(x, annotated_types.MaxLen)), None)
    return f"{least} or more of them" if most is None else f"{least} to {most} of them"


def _inner_limits(annotation: Any) -> tuple[Any, ...]:
    """Return the limits declared on what a list or an optional holds."""
    found: tuple[Any, ...] = ()
    for inner in get_args(annotation):
        metadata = getattr(inner, "__metadata__", ())
        for item in metadata:
            found += tuple(item.metadata) if isinstance(item, FieldInfo) else (item,)
        found += _inner_limits(inner) if not isinstance(inner, str) else ()
    return found


def _choices(annotation: Any) -> tuple[str, ...]:
    found: tuple[str, ...] = ()
    for inner in get_args(annotation):
        found += (inner,) if isinstance(inner, str) else _choices(inner)
    return found


def _part(annotation: Any) -> type[Inputs] | None:
    if isinstance(annotation, type) and issubclass(annotation, Inputs):
        return annotation
    return next(
        (part for inner in get_args(annotation) if (part := _part(inner)) is not None), None
    )


def _is_list(annotation: Any) -> bool:
    return get_origin(annotation) is list or any(_is_list(inner) for inner in get_args(annotation))
