"""The controls of a calculator's form, in groups, with plain names, units and ranges."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from academy.calculations.labels import choice_label, input_label, row_label
from academy.calculations.offered import OFFERED
from academy.calculations.query import flat_texts
from academy.web.calculators.fields import Field, Kind
from academy.web.calculators.measures import UnitSystem, measure
from academy.web.calculators.ranges import range_text
from academy.web.calculators.reading import MOST_ROWS, rows_typed
from academy.web.language import gettext as _
from academy.web.parts import Choosable

FEWEST_ROWS = 3
ROWS_ADDED = 3
CONTROLS = {
    Kind.NUMBER: "number",
    Kind.NUMBERS: "numbers",
    Kind.CHOICE: "choice",
    Kind.YES_NO: "yes-no",
}


@dataclass(frozen=True, slots=True)
class Control:
    """One control; ``kind`` is number, numbers, choice or yes-no."""

    name: str
    label: str
    kind: str
    unit: str
    hint: str
    required: bool
    whole: bool
    options: tuple[Choosable, ...]


@dataclass(frozen=True, slots=True)
class ControlGroup:
    """Controls that belong together: a part, or one row of a list; without a legend, the rest."""

    legend: str
    controls: tuple[Control, ...]


@dataclass(frozen=True, slots=True)
class Controls:
    """The form of one calculator; ``more_rows`` is how many it could show, 0 where it has none."""

    groups: tuple[ControlGroup, ...]
    more_rows: int


def controls_of(
    calculation: str,
    fields: Sequence[Field],
    typed: Mapping[str, str],
    system: UnitSystem,
    rows_wanted: int = 0,
) -> Controls:
    """Return the controls, with as many rows as are filled in or asked for."""
    form = _Form(calculation, typed, system, rows_wanted)
    groups = tuple(form.groups(fields))
    return Controls(groups, min(form.rows + ROWS_ADDED, MOST_ROWS) if form.rows else 0)


def defaults_of(fields: Sequence[Field]) -> dict[str, str]:
    """Return the texts a fresh form starts with."""
    found: dict[str, object] = {}
    for one in fields:
        if one.kind is Kind.PART:
            found[one.name] = {part.name: part.described.default for part in one.fields}
        elif one.kind is not Kind.YES_NO:
            found[one.name] = one.described.default
    return flat_texts(found)


class _Form:
    """The form being made."""

    def __init__(
        self, calculation: str, typed: Mapping[str, str], system: UnitSystem, rows_wanted: int
    ) -> None:
        self._calculation = calculation
        self._typed = typed
        self._system = system
        self._wanted = min(max(rows_wanted, FEWEST_ROWS), MOST_ROWS)
        self.rows = 0

    def groups(self, fields: Sequence[Field]) -> Iterator[ControlGroup]:
        simple: list[Control] = []
        for one in fields:
            if one.kind in CONTROLS:
                simple.append(self._control(one, one.name))
                continue
            if simple:
                yield ControlGroup("", tuple(simple))
                simple = []
            yield from self._rows(one) if one.kind is Kind.ROWS else [self._part(one)]
        if simple:
            yield ControlGroup("", tuple(simple))

    def _part(self, one: Field) -> ControlGroup:
        controls = tuple(self._control(part, f"{one.name}-{part.name}") for part in one.fields)
        return ControlGroup(_(input_label(one.name)), controls)

    def _rows(self, one: Field) -> Iterator[ControlGroup]:
        filled = rows_typed(one.name, one.fields, self._typed)
        self.rows = max(self._wanted, *filled) if filled else self._wanted
        template = row_label(self._calculation, one.name)
        for number in range(1, self.rows + 1):
            yield ControlGroup(
                _(template, number=number),
                tuple(
                    self._control(part, f"{one.name}-{number}-{part.name}", in_row=True)
                    for part in one.fields
                ),
            )

    def _control(self, one: Field, name: str, *, in_row: bool = False) -> Control:
        described = one.described
        return Control(
            name=name,
            label=_(input_label(one.name)),
            kind=CONTROLS[one.kind],
            unit=measure(described.unit, self._system).unit,
            hint=range_text(one, self._system) if in_row else self._hint(one),
            required=described.required or in_row,
            whole=described.whole,
            options=tuple(Choosable(word, _(choice_label(word))) for word in described.choices),
        )

    def _hint(self, one: Field) -> str:
        says, label = _(one.described.says), _(input_label(one.name))
        if says.lower().removeprefix("the ").startswith(label.lower()):
            says = ""  # the label has said it
        for name, title in OFFERED.items():
            says = says.replace(f"see {name}", f"see “{_(title)}”")
        parts = (says, range_text(one, self._system))
        return " ".join(f"{part[:1].upper()}{part[1:]}." for part in parts if part)
