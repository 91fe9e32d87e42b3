"""What a calculation's inputs share: strict numbers, known names, units beside each field."""

from __future__ import annotations

from decimal import Decimal, InvalidOperation
from typing import Annotated, Any

from pydantic import BaseModel, BeforeValidator, ConfigDict, Field, PlainSerializer
from pydantic_core import PydanticCustomError

LARGEST_EXPONENT = 300


class Inputs(BaseModel):
    """Inputs of one calculation, or a named part of them.

    Strict: ``true`` is not the number 1, ``"5"`` is not the number 5, no
    number is NaN or infinite and no name is unknown.
    """

    model_config = ConfigDict(
        strict=True, extra="forbid", frozen=True, allow_inf_nan=False, validate_default=True
    )


def quantity(
    says: str, unit: str = "", *, default: Any = ..., alias: str | None = None, **limits: Any
) -> Any:
    """Declare a field with one line about it, its unit and its range (``gt ge lt le min_length max_length``)."""
    return Field(default, description=says, alias=alias, json_schema_extra={"unit": unit}, **limits)


def fault(field: str, sentence: str) -> PydanticCustomError:
    """Return the error a validator raises to name one field and say what is allowed."""
    return PydanticCustomError("fault", "{sentence}", {"field": field, "sentence": sentence})


def _whole(value: object) -> object:
    """Read 3.0 as 3: JSON has one kind of number."""
    return int(value) if isinstance(value, float) and value.is_integer() else value


def _decimal(value: object) -> Decimal:
    """Take a number or decimal text as the decimal that was written.

    ``repr`` of a float is the shortest text that gives the float back, so a
    typed 1000000000000.4 stays that and not its nearest binary fraction.
    """
    if isinstance(value, bool) or not isinstance(value, (int, float, str, Decimal)):
        raise PydanticCustomError("decimal", "is not a number or a decimal text")
    if isinstance(value, int) and value.bit_length() > 1024:
        raise PydanticCustomError("decimal", "is beyond 1e300")
    try:
        number = Decimal(repr(value) if isinstance(value, float) else value)
    except InvalidOperation:
        raise PydanticCustomError("decimal", "is not a number or a decimal text") from None
    if not number.is_finite():
        raise PydanticCustomError("decimal", "is not a finite number")
    if number and (
        abs(number.adjusted()) > LARGEST_EXPONENT
        or len(number.as_tuple().digits) > LARGEST_EXPONENT
    ):
        raise PydanticCustomError(
            "decimal", "is beyond 1e300, or closer to 0 than 1e-300, or has over 300 digits"
        )
    return number


def _echoed(number: Decimal) -> int | float | str:
    """Write the decimal back as the number it was, as text only where a float would change it."""
    if number == number.to_integral_value() and abs(number) < 2**53:
        return int(number)
    return float(number) if Decimal(repr(float(number))) == number else str(number)


def _listed(value: object) -> object:
    """Read one number as a list of one reading."""
    return value if isinstance(value, list) else [value]


def _name(value: object) -> object:
    """Read a whole number as a name: part 1 is part "1"."""
    return str(value) if isinstance(value, int) and not isinstance(value, bool) else value


Whole = Annotated[int, BeforeValidator(_whole)]
Written = Annotated[
    Decimal,
    BeforeValidator(_decimal, json_schema_input_type=float | str),
    PlainSerializer(_echoed, return_type=int | float | str),
]
Named = Annotated[str, BeforeValidator(_name), Field(min_length=1, max_length=200)]
ONE_OR_MORE = BeforeValidator(_listed)
