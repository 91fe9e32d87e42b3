"""From a query to a calculation's inputs; what cannot be read is noted at its field."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field

from academy.domain.sentences import TradeError
from academy.web.calculators.fields import Field, Kind
from academy.web.calculators.measures import Measure, UnitSystem, carried, measure
from academy.web.calculators.typed import number_typed, pieces_typed

MOST_ROWS = 100
MOST_ZEROS = 15
YES = frozenset({"yes", "true", "on", "1"})


@dataclass(frozen=True, slots=True)
class Unreadable:
    """A text that is no number: which of a list (0 for a single one), and why."""

    place: int
    reason: TradeError


@dataclass(slots=True)
class Reading:
    """What a query says: the inputs, what cannot be read, and which row each list item came from."""

    typed: Mapping[str, str]
    system: UnitSystem
    units_asked: str | None = None
    inputs: dict[str, object] = field(default_factory=dict)
    unreadable: dict[str, Unreadable] = field(default_factory=dict)
    rows: dict[str, list[int]] = field(default_factory=dict)

    def text(self, name: str) -> str:
        """Return what stands in a control, without the blanks around it."""
        return self.typed.get(name, "").strip()


def read_query(
    fields: Sequence[Field], typed: Mapping[str, str], units: str | None = None
) -> Reading:
    """Return the inputs of a query; empty fields are left out, so that defaults apply.

    `units` is the system the query asks for, metric where it asks for none.

    A text that is no number goes into the inputs as it is: the calculation
    then refuses that field along with all the others.
    """
    system = UnitSystem.US if units == UnitSystem.US else UnitSystem.METRIC
    reading = Reading(typed, system, units)
    reading.inputs = _object(fields, "", reading)
    return reading


def rows_typed(name: str, fields: Sequence[Field], typed: Mapping[str, str]) -> list[int]:
    """Return the numbers of the rows that hold something."""
    return [
        number
        for number in range(1, MOST_ROWS + 1)
        if any(typed.get(f"{name}-{number}-{one.name}", "").strip() for one in fields)
    ]


def carried_over(
    fields: Sequence[Field], typed: Mapping[str, str], system: UnitSystem
) -> dict[str, str]:
    """Return what was typed in the other unit system, for the link that changes it.

    What cannot be read as a number is carried over as it stands.
    """
    other = UnitSystem.METRIC if system is UnitSystem.US else UnitSystem.US
    units = dict(_controls(fields, "", typed))
    return {
        name: _carried(text, units[name], system, other)
        for name, text in typed.items()
        if name in units and text.strip()
    }


def _carried(text: str, unit: str, system: UnitSystem, other: UnitSystem) -> str:
    source, target = measure(unit, system), measure(unit, other)
    if source == target:
        return text
    try:
        number = number_typed(text)
    except TradeError:
        return text
    if number and abs(number.adjusted()) > MOST_ZEROS:
        return text  # nothing of this size is allowed anywhere, so nobody reads it as a measure
    return f"{carried(number, source, target):f}"


def control_names(fields: Sequence[Field], typed: Mapping[str, str]) -> list[str]:
    """Return the controls, in the form's order, that something was sent for."""
    return [name for name, _unit in _controls(fields, "", typed) if name in typed]


def _controls(
    fields: Sequence[Field], prefix: str, typed: Mapping[str, str]
) -> Iterator[tuple[str, str]]:
    """Yield each control's name and the unit of what is typed in it."""
    for one in fields:
        name = f"{prefix}{one.name}"
        if one.kind is Kind.PART:
            yield from _controls(one.fields, f"{name}-", typed)
        elif one.kind is Kind.ROWS:
            for number in rows_typed(name, one.fields, typed):
                yield from _controls(one.fields, f"{name}-{number}-", typed)
        else:
            yield name, one.described.unit


def _object(fields: Sequence[Field], prefix: str, reading: Reading) -> dict[str, object]:
    found = {one.name: _value(one, f"{prefix}{one.name}", reading) for one in fields}
    return {name: value for name, value in found.items() if value is not None}


def _value(one: Field, name: str, reading: Reading) -> object:
    if one.kind is Kind.PART:
        return _object(one.fields, f"{name}-", reading)
    if one.kind is Kind.ROWS:
        return _rows(one, name, reading)
    text = reading.text(name)
    if one.kind is Kind.YES_NO:
        return text.lower() in YES if text else None
    if not text:
        return None
    if one.kind is Kind.CHOICE:
        return text
    with_measure = measure(one.described.unit, reading.system)
    if one.kind is Kind.NUMBERS:
        pieces = enumerate(pieces_typed(text), 1)
        return [_number(piece, name, place, with_measure, reading) for place, piece in pieces]
    return _number(text, name, 0, with_measure, reading)


def _rows(one: Field, name: str, reading: Reading) -> list[dict[str, object]]:
    numbers = rows_typed(name, one.fields, reading.typed)
    reading.rows[name] = numbers
    return [_object(one.fields, f"{name}-{number}-", reading) for number in numbers]


def _number(
    text: str, name: str, place: int, with_measure: Measure, reading: Reading
) -> int | float | str:
    try:
        number = number_typed(text)
    except TradeError as reason:
        reading.unreadable.setdefault(name, Unreadable(place, reason))
        return text
    if with_measure.converts:
        return with_measure.taken(number)
    whole = number == number.to_integral_value() and abs(number) < 2**53
    return int(number) if whole else float(number)
