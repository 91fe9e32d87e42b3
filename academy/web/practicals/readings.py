"""Readings as typed at the panel: understood, refused or asked about, and never silently dropped."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from decimal import Decimal

from werkzeug.datastructures import MultiDict

from academy.domain.curriculum.tasks import PracticalTask
from academy.domain.metrology.readings import (
    Accepted,
    Asked,
    Parsed,
    Refused,
    read_reading,
)
from academy.domain.practical.steps import Readings, SpotReadings
from academy.web.formats import sentence_text
from academy.web.language import gettext as _

EXTRA_READINGS = 2


@dataclass(frozen=True, slots=True)
class ReadingField:
    """One field of the readings form.

    ``asked`` holds values that were asked about earlier; those not kept in the
    end stay on the record as dropped.
    """

    name: str
    spot: int
    number: int
    required: bool
    typed: str = ""
    fault: str = ""
    may_confirm: bool = False
    confirmed: bool = False
    asked: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class TypedReadings:
    """The form as typed; ``readings`` is None while anything is refused or unconfirmed."""

    fields: tuple[ReadingField, ...]
    readings: Readings | None

    def of_spot(self, spot: int) -> tuple[ReadingField, ...]:
        """Return the fields of one spot."""
        return tuple(field for field in self.fields if field.spot == spot)

    @property
    def faults(self) -> int:
        """Return how many fields need another look."""
        return sum(bool(field.fault) for field in self.fields)


def empty_readings(task: PracticalTask) -> TypedReadings:
    """Return the fields of a task with nothing typed; two more a spot may stay empty."""
    fields = tuple(
        ReadingField(f"reading-{spot}-{number}", spot, number, number <= task.readings_per_spot)
        for spot in range(1, task.spots + 1)
        for number in range(1, task.readings_per_spot + EXTRA_READINGS + 1)
    )
    return TypedReadings(fields, None)


def typed_readings(task: PracticalTask, sent: MultiDict[str, str]) -> TypedReadings:
    """Return what was typed, each field judged beside all the others."""
    fields = tuple(_as_sent(field, sent) for field in empty_readings(task).fields)
    first = {field.name: read_reading(field.typed) for field in fields if field.typed}
    values = {
        name: parsed.value_um for name, parsed in first.items() if not isinstance(parsed, Refused)
    }
    judged = {
        field.name: read_reading(field.typed, _others(values, field.name))
        for field in fields
        if field.typed
    }
    looked_at = tuple(_with_fault(field, judged.get(field.name)) for field in fields)
    done = not any(field.fault for field in looked_at)
    return TypedReadings(looked_at, _readings(task, looked_at, judged) if done else None)


def _others(values: Mapping[str, float], name: str) -> list[float]:
    return [value for other, value in values.items() if other != name]


def _as_sent(field: ReadingField, sent: MultiDict[str, str]) -> ReadingField:
    return replace(
        field,
        typed=sent.get(field.name, "").strip(),
        confirmed=sent.get(f"confirm-{field.name}", "") == sent.get(field.name, "").strip() != "",
        asked=tuple(filter(None, sent.getlist(f"asked-{field.name}"))),
    )


def _with_fault(field: ReadingField, parsed: Parsed | None) -> ReadingField:
    if parsed is None:
        return replace(field, fault=_("Read this spot again")) if field.required else field
    if isinstance(parsed, Refused):
        return replace(field, fault=sentence_text(parsed.sentence))
    if isinstance(parsed, Asked):
        asked = field.asked if field.typed in field.asked else (*field.asked, field.typed)
        says = "" if field.confirmed else sentence_text(parsed.sentence)
        return replace(field, fault=says, may_confirm=True, asked=asked)
    return field


def _readings(
    task: PracticalTask, fields: tuple[ReadingField, ...], judged: Mapping[str, Parsed]
) -> Readings:
    return Readings(
        tuple(
            _spot(spot, [field for field in fields if field.spot == spot], judged)
            for spot in range(1, task.spots + 1)
        )
    )


def _spot(spot: int, fields: list[ReadingField], judged: Mapping[str, Parsed]) -> SpotReadings:
    kept = tuple(
        _exact(parsed)
        for field in fields
        if isinstance(parsed := judged.get(field.name), Accepted | Asked)
    )
    dropped = tuple(
        _exact(parsed)
        for field in fields
        for earlier in field.asked
        if earlier != field.typed and isinstance(parsed := read_reading(earlier), Accepted | Asked)
    )
    return SpotReadings(spot, kept, dropped, _("asked about and read again") if dropped else "")


def _exact(parsed: Accepted | Asked) -> Decimal:
    return Decimal(str(round(parsed.value_um, 4)))
