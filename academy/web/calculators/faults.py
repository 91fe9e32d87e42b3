"""What is wrong with a query, as sentences at the controls, each with what is allowed."""

from __future__ import annotations

import re
from collections.abc import Sequence

from pydantic import ValidationError
from pydantic_core import ErrorDetails

from academy.calculations.labels import choice_label, input_label, row_label
from academy.calculations.query import flat_name
from academy.calculations.registry import Calculation
from academy.web.calculators.fields import Field, Kind
from academy.web.calculators.measures import UnitSystem, measure
from academy.web.calculators.ranges import numbers_allowed
from academy.web.calculators.reading import Reading, control_names
from academy.web.calculators.typed import pieces_typed, shortened
from academy.web.forms import error_text
from academy.web.language import gettext as _


def query_faults(
    calculation: Calculation, fields: Sequence[Field], reading: Reading
) -> dict[str, str]:
    """Return a sentence for each control whose content cannot be used; none is good news."""
    return _Faults(calculation, fields, reading).found()


class _Faults:
    """The faults of one query."""

    def __init__(self, calculation: Calculation, fields: Sequence[Field], reading: Reading) -> None:
        self._calculation = calculation
        self._fields = fields
        self._reading = reading

    def found(self) -> dict[str, str]:
        faults: dict[str, str] = {}
        try:
            self._calculation.inputs.model_validate(self._reading.inputs)
        except ValidationError as error:
            for detail in error.errors(include_url=False):
                location = self._location(detail)
                faults.setdefault(self._control(location), self._sentence(detail, location))
        if self._reading.units_asked not in (None, *UnitSystem):
            faults[""] = _(
                "Units are metric or us, not “%(units)s”", units=self._reading.units_asked
            )
        known = set(control_names(self._fields, self._reading.typed))
        for name in self._reading.typed:
            if name not in known and self._reading.text(name):
                faults.setdefault(
                    "", _("This calculator has no field “%(name)s”", name=shortened(name))
                )
        # a text that is no number is refused even where the calculation could read it
        for name in self._reading.unreadable:
            faults.setdefault(name, self._unreadable(name, _field_at(self._fields, name), ""))
        return faults

    def _location(self, detail: ErrorDetails) -> list[int | str]:
        """Return the place in the inputs; a rule about several fields names the one at fault."""
        named = str(detail.get("ctx", {}).get("field", ""))
        steps = re.findall(r"[^.\[\]]+", named)
        return [*detail["loc"], *(int(step) if step.isdigit() else step for step in steps)]

    def _control(self, location: Sequence[int | str]) -> str:
        """Return the control of a place; a list item belongs to the row it was typed in."""
        typed_in = list(location)
        if len(typed_in) > 1 and isinstance(typed_in[1], int):
            rows = self._reading.rows.get(str(typed_in[0]))
            if rows:
                typed_in[1] = rows[typed_in[1]] - 1
        name = flat_name(typed_in)
        whole = next((one for one in self._fields if one.name == name), None)
        if whole is not None and whole.kind is Kind.ROWS:
            return f"{name}-1-{whole.fields[0].name}"
        return name

    def _sentence(self, detail: ErrorDetails, location: Sequence[int | str]) -> str:
        name = self._control(location)
        field = _field_at(self._fields, "-".join(str(one) for one in location))
        label = self._label(name, field)
        kind = detail["type"]
        if kind == "fault":
            return f"{label}: {self._rule(str(detail['ctx']['sentence']))}"
        if kind == "missing" or (kind == "too_short" and field.kind in (Kind.ROWS, Kind.NUMBERS)):
            return self._missing(label, field)
        if kind == "too_long":
            most = detail["ctx"]["max_length"]
            return _(
                "%(label)s: at most %(most)s numbers are taken at once", label=label, most=most
            )
        if field.kind is Kind.CHOICE:
            return _("%(label)s: choose one from the list", label=label)
        place = location[-1] + 1 if location and isinstance(location[-1], int) else 0
        if name in self._reading.unreadable:
            return self._unreadable(name, field, label)
        return self._out_of_range(name, field, label, place)

    def _missing(self, label: str, field: Field) -> str:
        if field.kind is Kind.CHOICE:
            words = ", ".join(_(choice_label(word)) for word in field.described.choices)
            return _("%(label)s is missing; choose one of: %(words)s", label=label, words=words)
        if field.kind is Kind.ROWS:
            return _("%(label)s: fill in one row at least", label=label)
        allowed = numbers_allowed(field, self._reading.system)
        return _("%(label)s is missing; write %(allowed)s", label=label, allowed=allowed)

    def _unreadable(self, name: str, field: Field, label: str) -> str:
        unreadable = self._reading.unreadable[name]
        return _(
            "%(label)s: %(reason)s. Write %(allowed)s.",
            label=_placed(label or self._label(name, field), unreadable.place),
            reason=error_text(unreadable.reason),
            allowed=numbers_allowed(field, self._reading.system),
        )

    def _out_of_range(self, name: str, field: Field, label: str, place: int) -> str:
        text = self._reading.text(name)
        typed = pieces_typed(text)[place - 1] if place else text
        return _(
            "%(label)s: “%(typed)s” is not allowed. Write %(allowed)s.",
            label=_placed(label, place),
            typed=shortened(typed),
            allowed=numbers_allowed(field, self._reading.system),
        )

    def _label(self, name: str, field: Field) -> str:
        label = _(input_label(field.name))
        top = next(one for one in self._fields if name.split("-")[0] == one.name)
        if top is field or top.kind not in (Kind.PART, Kind.ROWS):
            return label
        if top.kind is Kind.PART:
            return f"{_(input_label(top.name))}, {label}"
        number = name.split("-")[1]
        return f"{_(row_label(self._calculation.name, top.name), number=number)}, {label}"

    def _rule(self, sentence: str) -> str:
        """Return a rule about several fields with the fields' plain names in it."""
        sentence = in_plain_names(sentence, self._fields)
        if self._reading.system is UnitSystem.US and self._measured_otherwise():
            return _("%(rule)s (in metric units)", rule=sentence)
        return sentence

    def _measured_otherwise(self) -> bool:
        return any(measure(one.described.unit, UnitSystem.US).converts for one in self._fields)


def in_plain_names(sentence: str, fields: Sequence[Field]) -> str:
    """Return a sentence of the registry with the fields' plain names in place of the inputs' names."""
    names = {one.name: input_label(one.name) for one in fields if len(one.name) > len("to")}
    return re.sub(
        r"\b\w+\b",
        lambda word: f"“{_(names[word[0]])}”" if word[0] in names else word[0],
        sentence,
    )


def _placed(label: str, place: int) -> str:
    return _("%(label)s, number %(place)s", label=label, place=place) if place else label


def _field_at(fields: Sequence[Field], name: str) -> Field:
    """Return the field of a control's name."""
    steps = [step for step in name.split("-") if not step.isdigit()]
    found = next(one for one in fields if one.name == steps[0])
    return _field_at(found.fields, "-".join(steps[1:])) if steps[1:] else found
