"""Readings as typed at the panel: understood, refused or asked about, and never silently dropped."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
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
    unlike_the_spot,
)
from academy.domain.practical.steps import Readings, SpotReadings
from academy.web.formats import sentence_text
from academy.web.language import gettext as _

EXTRA_READINGS = 2
MOST_PER_SPOT = 60
_NAME = re.compile(r"reading-(\d{1,2})-(\d{1,2})")


@dataclass(frozen=True, slots=True)
class ReadingField:
    """One box of the readings form.

    ``asked`` holds values that were asked about earlier; those not kept in the
    end stay on the record as dropped.  ``left_out`` is on the record and out of
    the arithmetic.
    """

    name: str
    spot: int
    number: int
    required: bool
    typed: str = ""
    fault: str = ""
    may_confirm: bool = False
    confirmed: bool = False
    left_out: bool = False
    asked: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class TypedReadings:
    """The form as typed; ``readings`` is None while anything is refused or unconfirmed."""

    fields: tuple[ReadingField, ...]
    readings: Readings | None
    reasons: Mapping[int, str]

    def of_spot(self, spot: int) -> tuple[ReadingField, ...]:
        """Return the boxes of one spot."""
        return tuple(field for field in self.fields if field.spot == spot)

    @property
    def faults(self) -> int:
        """Return how many boxes need another look."""
        return sum(bool(field.fault) for field in self.fields)


def empty_readings(task: PracticalTask, earlier: Readings | None = None) -> TypedReadings:
    """Return the boxes of a task, with what was read earlier in them; two more a spot may stay empty."""
    fields = []
    for spot in range(1, task.spots + 1):
        typed = [f"{value:f}" for value in earlier.spots[spot - 1].readings_um] if earlier else []
        boxes = max(task.readings_per_spot, len(typed)) + EXTRA_READINGS
        fields += [
            replace(field, typed=typed[field.number - 1] if field.number <= len(typed) else "")
            for field in _boxes(task, spot, boxes)
        ]
    return TypedReadings(tuple(fields), None, {})


def typed_readings(
    task: PracticalTask, sent: MultiDict[str, str], gauge_sd_um: float | None
) -> TypedReadings:
    """Return what was typed, each box judged beside all the others and beside its own spot."""
    fields = [
        _as_sent(field, sent)
        for spot in range(1, task.spots + 1)
        for field in _boxes(task, spot, _boxes_sent(task, spot, sent))
    ]
    parsed = _parsed(fields)
    looked_at = [
        replace(_with_fault(field, parsed.get(field.name)), required=field.required)
        for field in fields
    ]
    looked_at = [_beside_its_spot(field, looked_at, parsed, gauge_sd_um) for field in looked_at]
    for spot in range(1, task.spots + 1):
        looked_at = _with_missing(looked_at, spot, task.readings_per_spot)
    reasons = {spot: sent.get(f"why-{spot}", "").strip()[:200] for spot in range(1, task.spots + 1)}
    looked_at = [_with_reason(field, reasons[field.spot]) for field in looked_at]
    done = not any(field.fault for field in looked_at)
    readings = _readings(task, looked_at, parsed, reasons) if done else None
    return TypedReadings(tuple(looked_at), readings, reasons)


def left_out_reasons() -> tuple[str, ...]:
    """Return the usual reasons for leaving a reading out."""
    return (
        _("the probe was tilted"),
        _("dirt under the probe"),
        _("typed wrong"),
        _("read beside the spot"),
    )


def _boxes(task: PracticalTask, spot: int, count: int) -> list[ReadingField]:
    return [
        ReadingField(f"reading-{spot}-{number}", spot, number, number <= task.readings_per_spot)
        for number in range(1, count + 1)
    ]


def _boxes_sent(task: PracticalTask, spot: int, sent: MultiDict[str, str]) -> int:
    """Return how many boxes of a spot were sent; a page that was cut short still has its least."""
    numbers = [
        int(match[2]) for name in sent if (match := _NAME.fullmatch(name)) and int(match[1]) == spot
    ]
    least = task.readings_per_spot + EXTRA_READINGS
    return min(max([least, *numbers]), MOST_PER_SPOT)


def _parsed(fields: Sequence[ReadingField]) -> dict[str, Parsed]:
    first = {field.name: read_reading(field.typed) for field in fields if field.typed}
    values = {
        name: parsed.value_um for name, parsed in first.items() if not isinstance(parsed, Refused)
    }
    return {
        field.name: read_reading(
            field.typed, [value for other, value in values.items() if other != field.name]
        )
        for field in fields
        if field.typed
    }


def _as_sent(field: ReadingField, sent: MultiDict[str, str]) -> ReadingField:
    typed = sent.get(field.name, "").strip()[:40]
    return replace(
        field,
        typed=typed,
        confirmed=sent.get(f"confirm-{field.name}", "") == typed != "",
        left_out=bool(typed) and str(field.number) in sent.getlist(f"leave-{field.spot}"),
        asked=tuple(filter(None, sent.getlist(f"asked-{field.name}"))),
    )


def _with_fault(field: ReadingField, parsed: Parsed | None) -> ReadingField:
    if isinstance(parsed, Refused):
        return replace(field, fault=sentence_text(parsed.sentence))
    if isinstance(parsed, Asked) and not field.left_out:
        return _asked_about(field, sentence_text(parsed.sentence))
    return field


def _beside_its_spot(
    field: ReadingField,
    fields: Sequence[ReadingField],
    parsed: Mapping[str, Parsed],
    gauge_sd_um: float | None,
) -> ReadingField:
    """Ask about a reading that the others of its spot do not bear out."""
    here = parsed.get(field.name)
    if not isinstance(here, Accepted) or field.left_out:
        return field
    spot = [
        other_parsed.value_um
        for other in fields
        if other.spot == field.spot
        and not other.left_out
        and isinstance(other_parsed := parsed.get(other.name), Accepted)
    ]
    question = unlike_the_spot(here.value_um, spot, gauge_sd_um)
    return _asked_about(field, sentence_text(question)) if question else field


def _asked_about(field: ReadingField, says: str) -> ReadingField:
    asked = field.asked if field.typed in field.asked else (*field.asked, field.typed)
    return replace(field, fault="" if field.confirmed else says, may_confirm=True, asked=asked)


def _with_missing(fields: Sequence[ReadingField], spot: int, needed: int) -> list[ReadingField]:
    """Ask for another reading in as many empty boxes as the spot lacks."""
    kept = sum(bool(f.typed) and not f.left_out for f in fields if f.spot == spot)
    lacking = needed - kept
    looked_at = []
    for field in fields:
        if field.spot == spot and not field.typed and lacking > 0:
            lacking -= 1
            field = replace(field, fault=_("Read this spot again"))
        looked_at.append(field)
    return looked_at


def _with_reason(field: ReadingField, reason: str) -> ReadingField:
    if field.left_out and not reason and not field.fault:
        return replace(field, fault=_("Say why this reading is left out"))
    return field


def _readings(
    task: PracticalTask,
    fields: Sequence[ReadingField],
    parsed: Mapping[str, Parsed],
    reasons: Mapping[int, str],
) -> Readings:
    return Readings(
        tuple(
            _spot(spot, [field for field in fields if field.spot == spot], parsed, reasons[spot])
            for spot in range(1, task.spots + 1)
        )
    )


def _spot(
    spot: int, fields: Sequence[ReadingField], parsed: Mapping[str, Parsed], reason: str
) -> SpotReadings:
    taken = [
        (field.left_out, _exact(here))
        for field in fields
        if isinstance(here := parsed.get(field.name), Accepted | Asked)
    ]
    replaced = [
        _exact(earlier_parsed)
        for field in fields
        for earlier in field.asked
        if earlier != field.typed
        and isinstance(earlier_parsed := read_reading(earlier), Accepted | Asked)
    ]
    left = [value for left_out, value in taken if left_out]
    why = [reason] * bool(left) + [_("asked about and read again")] * bool(replaced)
    return SpotReadings(
        spot,
        tuple(value for left_out, value in taken if not left_out),
        (*left, *replaced),
        "; ".join(why),
    )


def _exact(parsed: Accepted | Asked) -> Decimal:
    return Decimal(str(round(parsed.value_um, 4)))
