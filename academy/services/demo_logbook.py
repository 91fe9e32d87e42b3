"""The demonstration's logbook: what two invented trainees watched, helped with and practised, and a day at machines."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime, timedelta
from decimal import Decimal
from uuid import uuid4

from sqlalchemy.orm import Session

from academy.domain.curriculum.course import Course
from academy.domain.practical.logbook import PracticeStage
from academy.services import logbook, tool_time
from academy.services.actor import Actor
from academy.services.logbook import NewEntry
from academy.services.shop_clock import today_in_shop
from academy.services.tool_time import NewToolTime
from academy.store.queries.tools import machines


@dataclass(frozen=True, slots=True)
class _Writer:
    session: Session
    course: Course
    now: datetime

    def work(
        self, actor: Actor, person: Actor, stage: PracticeStage, days_ago: int, on: str, note: str,
        task_id: str = "single-step-polishing",
    ) -> NewEntry:  # fmt: skip
        """Enter work on a task of the course; ``actor`` is who writes it down."""
        task = self.course.task(task_id) or self.course.tasks[0]
        return self._write(actor, person, task.id, stage, days_ago, on, note)

    def drill(self, person: Actor, number: int, days_ago: int) -> None:
        """Log one of the course's drills."""
        if self.course.drills:
            drill = self.course.drills[number % len(self.course.drills)]
            self._write(person, person, drill.id, None, days_ago, "", "")

    def _write(
        self,
        actor: Actor,
        person: Actor,
        subject_id: str,
        stage: PracticeStage | None,
        days_ago: int,
        on: str,
        note: str,
    ) -> NewEntry:
        at = self.now - timedelta(days=days_ago)
        day = today_in_shop(self.session, actor.shop_id, at)
        new = NewEntry(uuid4(), person.person_id, subject_id, stage, day, on, note)
        logbook.write_entry(self.session, actor=actor, new=new, course=self.course, now=at)
        self.session.flush()
        return new


def load_logbook(
    session: Session, *, actors: Mapping[str, Actor], course: Course, now: datetime
) -> None:
    """Let two trainees have kept their logbooks, and one have held machines this morning."""
    if not course.tasks:
        return
    write, supervisor = _Writer(session, course, now), actors["supervisor"]
    lena, noah = actors["lena"], actors["noah"]
    write.work(supervisor, lena, PracticeStage.OBSERVED, 16, "Bonnet 7", "Held the lamp.")
    write.work(
        supervisor, lena, PracticeStage.ASSISTED, 9, "Door 2",
        "Masked the edges alone; two passes with the supervisor's hand on the cord.",
    )  # fmt: skip
    write.work(
        lena,
        lena,
        PracticeStage.ASSISTED,
        1,
        "Wing 4",
        "Mapped and masked.",
        "inspect-and-map-defects",
    )
    for number, days_ago in enumerate((12, 8, 6, 2)):
        write.drill(lena, 5 * number + 3, days_ago)
    held = write.work(noah, noah, PracticeStage.SUPERVISED, 0, "Door 2", "Two sections.")
    _hold_machines(session, noah, held, now)


def _hold_machines(session: Session, noah: Actor, held: NewEntry, now: datetime) -> None:
    """State a sander held elsewhere this morning, and the machine of today's work."""
    ours = [machine.id for machine in machines(session, noah.shop_id) if machine.vibration_m_s2]
    elsewhere = NewToolTime(
        uuid4(), noah.person_id, held.worked_on, 15 * 60, "a sander, before work (invented)",
        None, None, Decimal("5.0"), Decimal("1.5"),
    )  # fmt: skip
    here = NewToolTime(
        uuid4(), noah.person_id, held.worked_on, 25 * 60, "", held.id, ours[0] if ours else None
    )
    for new in (elsewhere, here):
        tool_time.state_tool_time(session, actor=noah, new=new, now=now)
