"""Forms as pydantic models: what was typed is kept, and each fault is a sentence at its field."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from datetime import date
from typing import Annotated, Any, Self, get_origin
from uuid import UUID, uuid4

from pydantic import BaseModel, BeforeValidator, ConfigDict, ValidationError
from werkzeug.datastructures import MultiDict

from academy.domain.sentences import Sentence
from academy.web.formats import sentence_text
from academy.web.language import gettext as _
from academy.web.parts import Filled

_CONTROL = re.compile(r"[\x00-\x08\x0b\x0c\x0e-\x1f\x7f]")
NEVER_SHOWN_AGAIN = frozenset({"password", "new_password", "csrf_token"})


class FormRefused(Exception):
    """A form with faults; ``filled`` shows it again with what was typed."""

    def __init__(self, filled: Filled) -> None:
        super().__init__("; ".join(filled.faults.values()))
        self.filled = filled


class Form(BaseModel):
    """A form; fields that are lists take every value of their name."""

    model_config = ConfigDict(extra="ignore", str_strip_whitespace=True, frozen=True)

    @classmethod
    def of(cls, typed: MultiDict[str, str]) -> Self:
        """Return the form as typed.

        Raises
        ------
        FormRefused
            With the faults and what was typed.
        """
        given = {
            name: cls._value(typed, name)
            for name, field in cls.model_fields.items()
            # an optional field that was left empty was not given
            if name in typed and (field.is_required() or typed[name].strip())
        }
        try:
            return cls.model_validate(given)
        except ValidationError as error:
            raise FormRefused(Filled(as_typed(typed), _faults(error))) from None

    @classmethod
    def _value(cls, typed: MultiDict[str, str], name: str) -> str | list[str]:
        annotation = cls.model_fields[name].annotation
        several = get_origin(annotation) in {list, tuple, set, frozenset}
        return (
            [printable(value) for value in typed.getlist(name)]
            if several
            else printable(typed[name])
        )


def printable(text: str) -> str:
    """Return the text without control characters, which no keyboard means and no database keeps."""
    return _CONTROL.sub("", text)


def as_typed(typed: MultiDict[str, str]) -> Mapping[str, str | Sequence[str]]:
    """Return what was typed, without passwords, to show it again."""
    return {
        name: values[0] if len(values) == 1 else values
        for name, values in typed.lists()
        if name not in NEVER_SHOWN_AGAIN
    }


def refused(typed: MultiDict[str, str], fault: object, field: str = "") -> Filled:
    """Return a form shown again with one fault, at a field or for the form as a whole."""
    says = error_text(fault) if isinstance(fault, Exception) else sentence_text(str(fault))
    return Filled(as_typed(typed), {field: says})


def error_text(error: Exception) -> str:
    """Return a trade error in the reader's language."""
    return sentence_text(error) if isinstance(error, Sentence) else str(error)


def _faults(error: ValidationError) -> dict[str, str]:
    faults: dict[str, str] = {}
    for fault in error.errors(include_url=False):
        name = str(fault["loc"][0]) if fault["loc"] else ""
        faults.setdefault(name, _sentence(fault))
    return faults


def _sentence(fault: Mapping[str, Any]) -> str:
    """Return what is wrong with one field and what would be right."""
    context = fault.get("ctx") or {}
    kind = str(fault["type"])
    if kind == "value_error":
        return str(context["error"])
    if kind == "string_too_short" and context["min_length"] > 1:
        return _("Write at least %(least)d characters", least=context["min_length"])
    says = _sentences().get(kind, str(fault["msg"]))
    return says % {name: context.get(name, "") for name in ("ge", "gt", "le", "lt", "max_length")}


def _sentences() -> Mapping[str, str]:
    """Return a sentence for each kind of fault a form can have."""
    empty, choose = _("Fill this in"), _("Choose one of the options")
    listed, whole, number = (
        _("Choose one from the list"),
        _("Write a whole number"),
        _("Write a number"),
    )
    return {
        "missing": empty,
        "string_too_short": empty,
        "string_too_long": _("Write at most %(max_length)s characters"),
        "enum": choose,
        "literal_error": choose,
        "uuid_parsing": listed,
        "uuid_type": listed,
        "int_parsing": whole,
        "int_type": whole,
        "int_from_float": whole,
        "int_parsing_size": whole,
        "decimal_parsing": number,
        "float_parsing": number,
        "finite_number": number,
        "greater_than_equal": _("Write %(ge)s or more"),
        "greater_than": _("Write more than %(gt)s"),
        "less_than_equal": _("Write %(le)s or less"),
        "less_than": _("Write less than %(lt)s"),
    }


def decimal_typed(value: object) -> object:
    """Return a typed decimal with the comma some keyboards give turned into a point."""
    return value.replace(",", ".") if isinstance(value, str) and value.count(",") == 1 else value


def day_typed(value: object) -> object:
    """Return a typed day; raises a sentence where it is none."""
    if not isinstance(value, str):
        return value
    try:
        return date.fromisoformat(value)
    except ValueError:
        raise ValueError(_("Write the day as 2026-11-25")) from None


Day = Annotated[date, BeforeValidator(day_typed)]


def kept_id(typed: MultiDict[str, str], name: str) -> UUID:
    """Return the id the form was opened with, so that sending it again is still the same one."""
    try:
        return UUID(typed.get(name, ""))
    except ValueError:
        return uuid4()
