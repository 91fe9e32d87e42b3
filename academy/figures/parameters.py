"""The typed parameters of a figure: ranges, units and one-line descriptions."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any, ClassVar

from pydantic import BaseModel, ConfigDict, Field, ValidationError, field_validator
from pydantic_core import ErrorDetails, PydanticCustomError

CAPTION_LENGTH = 300


@dataclass(frozen=True, slots=True)
class Taken:
    """One parameter a figure takes; ``allowed`` is the range or the choices in words."""

    name: str
    default: object
    unit: str
    low: float | None
    high: float | None
    choices: tuple[str, ...]
    says: str
    allowed: str


@dataclass(frozen=True, slots=True)
class Fault:
    """One parameter that was refused, what was given and what is allowed."""

    parameter: str
    given: str
    allowed: str
    unknown: bool = False


class Parameters(BaseModel):
    """The base of every figure's parameters; all have defaults, none may be made up."""

    model_config: ClassVar[ConfigDict] = ConfigDict(
        extra="forbid", frozen=True, allow_inf_nan=False, str_strip_whitespace=True
    )

    caption: str = Field(
        default="",
        max_length=CAPTION_LENGTH,
        description="what the reader should see in it",
        json_schema_extra={"allowed": f"text of at most {CAPTION_LENGTH} characters"},
    )

    @field_validator("*", mode="before")
    @classmethod
    def _refuse_truth_values(cls, value: object) -> object:
        """Refuse yes and no: YAML reads both as truth values, which Python takes for 1 and 0."""
        inside = value if isinstance(value, list | tuple) else [value]
        if any(isinstance(each, bool) for each in inside):
            raise PydanticCustomError("truth value", "a truth value is not a number")
        return value

    @classmethod
    def taken(cls) -> tuple[Taken, ...]:
        """Return one line for each parameter, the caption last."""
        names = [name for name in cls.model_fields if name != "caption"]
        return tuple(_taken(cls, name) for name in (*names, "caption"))

    @classmethod
    def allowed(cls, name: str) -> str:
        """Return in words what a parameter may be."""
        return next((line.allowed for line in cls.taken() if line.name == name), "")


def number(default: float | None, low: float, high: float, unit: str, says: str) -> Any:
    """Declare a number from ``low`` to ``high``, both included."""
    reach = f"{low:g} to {high:g} {unit}".strip()
    return Field(
        default=default,
        ge=low,
        le=high,
        description=says,
        json_schema_extra={"unit": unit, "low": low, "high": high, "allowed": reach},
    )


def whole(default: int, low: int, high: int, says: str) -> Any:
    """Declare a whole number from ``low`` to ``high``, both included."""
    reach = f"a whole number, {low} to {high}"
    return Field(
        default=default,
        ge=low,
        le=high,
        description=says,
        json_schema_extra={"low": low, "high": high, "allowed": reach},
    )


def choice(default: str, choices: Sequence[str], says: str) -> Any:
    """Declare one word out of several; the annotation is the matching ``Literal``."""
    extra: Any = {"choices": list(choices), "allowed": ", ".join(choices)}
    return Field(
        default=default,
        description=says,
        json_schema_extra=extra,
    )


def several(default: tuple[Any, ...], most: int, allowed: str, unit: str, says: str) -> Any:
    """Declare a list of one to ``most`` values; an author may write it with commas."""
    return Field(
        default=default,
        min_length=1,
        max_length=most,
        description=says,
        json_schema_extra={"unit": unit, "allowed": f"1 to {most} of: {allowed}"},
    )


def split_list(value: object) -> object:
    """Read ``4, 6`` as two values; leave a list and a single number to pydantic."""
    if isinstance(value, str):
        return [part.strip() for part in value.split(",")]
    if isinstance(value, int | float) and not isinstance(value, bool):
        return [value]
    return value


def clash(parameter: str, given: object, allowed: str) -> PydanticCustomError:
    """Return the error of a value that is in its range but does not go with another."""
    context = {"parameter": parameter, "given": _shown(given), "allowed": allowed}
    return PydanticCustomError("clash", "does not go with another", context)


def faults(model: type[Parameters], error: ValidationError) -> tuple[Fault, ...]:
    """Turn what pydantic found into one fault for each parameter."""
    found: dict[str, Fault] = {}
    for detail in error.errors(include_url=False):
        fault = _fault(model, detail)
        found.setdefault(fault.parameter, fault)
    return tuple(found.values())


def _fault(model: type[Parameters], detail: ErrorDetails) -> Fault:
    context = detail.get("ctx", {})
    if detail["type"] == "clash":
        return Fault(context["parameter"], context["given"], context["allowed"])
    parameter = str(detail["loc"][0])
    if detail["type"] == "extra_forbidden":
        known = ", ".join(line.name for line in model.taken())
        return Fault(parameter, _shown(detail["input"]), known, unknown=True)
    return Fault(parameter, _shown(detail["input"]), model.allowed(parameter))


def _shown(value: object) -> str:
    text = "nothing" if value is None or value == "" else str(value)
    return text if len(text) <= 60 else f"{text[:57]}..."


def _taken(model: type[Parameters], name: str) -> Taken:
    info = model.model_fields[name]
    extra: Any = info.json_schema_extra
    return Taken(
        name=name,
        default=info.default,
        unit=extra.get("unit", ""),
        low=extra.get("low"),
        high=extra.get("high"),
        choices=tuple(extra.get("choices", ())),
        says=info.description or "",
        allowed=extra["allowed"],
    )
