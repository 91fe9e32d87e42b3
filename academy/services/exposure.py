"""A person's day at machines, gathered from practicals, the logbook and what was said of the day before.

No health data is kept: how long a machine ran, not how a hand feels.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from decimal import Decimal
from typing import Any
from uuid import UUID
from zoneinfo import ZoneInfo

from sqlalchemy.orm import Session

from academy.domain.curriculum.course import Course
from academy.domain.curriculum.tasks import Drill, PracticalTask
from academy.domain.exposure.advice import Advice, advice, worst
from academy.domain.exposure.day import (
    DayAtMachines,
    MachineVibration,
    day_at_machines,
)
from academy.domain.exposure.day import ToolTime as Time
from academy.domain.exposure.legal import VibrationValues, vibration_values
from academy.domain.practical.logbook import PracticeStage
from academy.domain.practical.stages import Help
from academy.domain.workshop.machines import VibrationSource
from academy.services.shop_clock import today_in_shop
from academy.store.queries import exposure as queries
from academy.store.queries.exposure import ToolTimeRow, WorkedStepRow
from academy.store.queries.logbook import EntryRow, entries_of
from academy.store.queries.shop_settings import policy
from academy.store.queries.tools import MachineRow, machines

# Work that carries this caution holds a running machine.
AT_A_MACHINE = "rotating-pad"


@dataclass(frozen=True, slots=True)
class DayLine:
    """One stretch of a day: where it is known from and what it counts.

    ``practical_id`` is set for a working step, ``stated`` for what somebody said.
    """

    says: str
    time: Time
    at: datetime
    source: VibrationSource | None
    practical_id: UUID | None = None
    taken_over: bool = False
    stated: ToolTimeRow | None = None


@dataclass(frozen=True, slots=True)
class PersonsDay:
    """Everything known of one person's day at machines, and the shop's machines it was told by."""

    person_id: UUID
    day: date
    lines: tuple[DayLine, ...]
    total: DayAtMachines
    values: VibrationValues
    machines: tuple[MachineRow, ...]


def persons_day(
    session: Session, *, shop_id: UUID, person_id: UUID, day: date, course: Course
) -> PersonsDay:
    """Return one person's day in the shop's time, from everything that was recorded."""
    shop = policy(session, shop_id)
    begins, ends = _bounds(day, shop.zone)
    known = machines(session, shop_id)
    entries = entries_of(session, shop_id, person_id)
    now_standing = _as_they_stand(entries)
    stated = [
        row
        for row in queries.tool_times(session, shop_id, person_id, day)
        if row.entry_id is None or now_standing[row.entry_id].counts
    ]
    steps = queries.worked_steps(session, shop_id, person_id, begins, ends)
    lines = [_stated_line(row, known) for row in stated] + [
        _step_line(row, known) for row in steps if _held_by(row, person_id)
    ]
    total = day_at_machines(
        [line.time for line in lines],
        earlier_asked=any(row.entry_id is None for row in stated),
        without_time=_without_time(
            [entry for entry in entries if entry.worked_on == day],
            {now_standing[row.entry_id].id for row in stated if row.entry_id},
            course,
        ),
    )
    return PersonsDay(
        person_id,
        day,
        tuple(sorted(lines, key=lambda line: line.at)),
        total,
        vibration_values(shop.country),
        tuple(known),
    )


def advice_before_step(
    session: Session, *, shop_id: UUID, person_id: UUID, course: Course, now: datetime,
    machine_id: UUID | None = None,
) -> tuple[PersonsDay, Advice]:  # fmt: skip
    """Return the day so far and what to say before the next step at a machine.

    Where nobody knows yet which machine is taken up, the one of the shop that
    shakes most is counted with.
    """
    day = today_in_shop(session, shop_id, now)
    found = persons_day(session, shop_id=shop_id, person_id=person_id, day=day, course=course)
    chosen = [m for m in found.machines if machine_id in {None, m.id}]
    values = [value for value in map(vibration_of, chosen) if value is not None]
    return found, advice(found.total, found.values, worst(values))


def vibration_of(machine: MachineRow) -> MachineVibration | None:
    """Return what is known of a machine's vibration; None where it has no value."""
    return _value(machine.vibration_m_s2, machine.vibration_uncertainty_m_s2)


def at_a_machine(course: Course) -> frozenset[str]:
    """Return the ids of the drills and tasks in which a running machine is held."""
    works: tuple[Drill | PracticalTask, ...] = (*course.drills, *course.tasks)
    return frozenset(work.id for work in works if AT_A_MACHINE in work.cautions)


def _bounds(day: date, zone: ZoneInfo) -> tuple[datetime, datetime]:
    """Return the first moment of a day and of the next; a day may have 23 or 25 hours."""
    return (
        datetime.combine(day, time(), zone),
        datetime.combine(day + timedelta(days=1), time(), zone),
    )


def _held_by(row: WorkedStepRow, person_id: UUID) -> bool:
    """Return whether this person had the machine in hand; where it was taken over, both had."""
    return person_id == row.trainee_id or row.body["help_given"] == Help.TOOK_OVER


def _step_line(row: WorkedStepRow, known: Sequence[MachineRow]) -> DayLine:
    machine = _machine_of(row.body, known)
    return DayLine(
        str(row.body["machine"]),
        Time(int(row.body["seconds"]), vibration_of(machine) if machine else None),
        row.recorded_at,
        machine.vibration_source if machine else None,
        row.practical_id,
        row.body["help_given"] == Help.TOOK_OVER,
    )


def _machine_of(body: Mapping[str, Any], known: Sequence[MachineRow]) -> MachineRow | None:
    """Return the shop's machine of a working step: by its id, or by the label that was typed."""
    typed = str(body["machine"]).strip().casefold()
    return next(
        (
            machine
            for machine in known
            if str(machine.id) == body.get("machine_id") or machine.label.casefold() == typed
        ),
        None,
    )


def _stated_line(row: ToolTimeRow, known: Sequence[MachineRow]) -> DayLine:
    machine = next((m for m in known if m.id == row.machine_id), None)
    return DayLine(
        row.says,
        Time(row.seconds, _value(row.vibration_m_s2, row.vibration_uncertainty_m_s2)),
        row.stated_at,
        machine.vibration_source if machine else None,
        stated=row,
    )


def _value(m_s2: Decimal | None, uncertainty_m_s2: Decimal | None) -> MachineVibration | None:
    if m_s2 is None:
        return None
    return MachineVibration(
        float(m_s2), None if uncertainty_m_s2 is None else float(uncertainty_m_s2)
    )


def _as_they_stand(entries: Sequence[EntryRow]) -> dict[UUID, EntryRow]:
    """Return for each entry the newest one in its place."""
    newer = {entry.supersedes_id: entry for entry in entries if entry.supersedes_id}
    found = {}
    for entry in entries:
        last = entry
        while last.id in newer:
            last = newer[last.id]
        found[entry.id] = last
    return found


def _without_time(entries: Sequence[EntryRow], timed: Collection[UUID], course: Course) -> int:
    """Return how many entries at a machine have no time with them."""
    at_machine = at_a_machine(course)
    return sum(
        entry.counts
        and entry.subject_id in at_machine
        and entry.id not in timed
        and entry.stage is not PracticeStage.OBSERVED
        for entry in entries
    )
