"""A person's day at machines, from practicals, the logbook and what was said of the day before."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime, timedelta
from decimal import Decimal
from typing import Any
from uuid import UUID, uuid4

import pytest
from sqlalchemy.orm import Session

from academy.domain.curriculum.tasks import Drill
from academy.domain.exposure.advice import Warned
from academy.domain.exposure.legal import NoCountryStated, SetByLaw, UnknownCountry
from academy.domain.practical.logbook import AlreadyCorrected, DayToCome, NoReason, PracticeStage
from academy.domain.practical.stages import Help, Stage
from academy.domain.practical.steps import StepBody, TestSpot
from academy.domain.workshop.machines import Machine, VibrationSource
from academy.domain.workshop.policy import ShopPolicy
from academy.services import logbook, tool_time, tools
from academy.services.actor import Actor, NotAllowed, NotFound
from academy.services.exposure import PersonsDay, advice_before_step, persons_day
from academy.services.logbook import NewEntry
from academy.services.shop_settings import change_settings
from academy.services.tool_time import NewToolTime
from academy.store.database import Database
from tests.support.cast import Cast
from tests.support.clock import NOW, later
from tests.support.course import a_course, a_digest
from tests.support.journey import a_signed_practical
from tests.support.panel_work import a_working_step

DRILL = Drill(
    "taped line", "A taped line", (), ("rotating-pad",), 20, "<p>Mask.</p>", a_digest("drill")
)
COURSE = replace(a_course(), drills=(DRILL,))


def a_machine(session: Session, cast: Cast, label: str = "Dual action 1") -> UUID:
    """Add a machine of 5 ± 1 m/s² and return its id: 50 points an hour, 32 to 72."""
    machine = tools.NewMachine(
        label, Machine.FREE_SPINNING, 125, Decimal(15), Decimal(5), Decimal(1),
        VibrationSource.DECLARED,
    )  # fmt: skip
    added = tools.add_machine(
        session, actor=cast.shop.supervisor, machine_id=uuid4(), machine=machine, now=NOW
    )
    session.flush()
    return added


def worked(
    machine: str = "dual action 1 ", seconds: int = 600, **more: Any
) -> dict[Stage, StepBody]:
    """Return so many seconds at a machine: a minute of them on the test spot."""
    return {
        Stage.TEST_SPOT: TestSpot(a_working_step(machine=machine, seconds=60), "clear", True),
        Stage.WORKING: a_working_step(machine=machine, seconds=seconds - 60, **more),
    }


def day_of(session: Session, cast: Cast, who: Actor | None = None) -> PersonsDay:
    person = who or cast.shop.trainee
    return persons_day(
        session, shop_id=cast.shop.shop_id, person_id=person.person_id, day=NOW.date(),
        course=COURSE,
    )  # fmt: skip


def a_time(cast: Cast, **overrides: Any) -> NewToolTime:
    fields: dict[str, Any] = {
        "id": uuid4(),
        "person_id": cast.shop.trainee.person_id,
        "worked_on": NOW.date(),
        "seconds": 1800,
    }
    return NewToolTime(**(fields | overrides))


def state(session: Session, actor: Actor, new: NewToolTime) -> None:
    tool_time.state_tool_time(session, actor=actor, new=new, now=NOW)
    session.flush()


def test_working_steps_and_stated_times_add_up(database: Database, cast: Cast) -> None:
    with database.writing() as session:
        machine_id = a_machine(session, cast)
        a_signed_practical(session, cast.shop, COURSE, NOW, worked())
        state(session, cast.shop.trainee, a_time(cast, machine_id=machine_id))
        found = day_of(session, cast)

        # 2 · 5² · (600 + 1800)/3600 by hand; 4 and 6 m/s² at the ends.
        assert found.total.points.stated == pytest.approx(100 / 3)
        assert found.total.points.lower == pytest.approx(64 / 3)
        assert found.total.points.upper == pytest.approx(48)
        assert found.total.whole
        assert {line.source for line in found.lines} == {VibrationSource.DECLARED}


def test_without_a_word_about_the_day_before_it_is_the_recorded_part_only(
    database: Database, cast: Cast
) -> None:
    with database.writing() as session:
        a_machine(session, cast)
        a_signed_practical(session, cast.shop, COURSE, NOW, worked())
        assert not day_of(session, cast).total.earlier_asked
        state(session, cast.shop.supervisor, a_time(cast, seconds=0, says="none before"))
        assert day_of(session, cast).total.whole


def test_a_machine_nobody_knows_counts_its_time_and_no_points(
    database: Database, cast: Cast
) -> None:
    with database.writing() as session:
        a_signed_practical(session, cast.shop, COURSE, NOW, worked("a borrowed machine"))
        total = day_of(session, cast).total
        assert (total.seconds, total.seconds_without_value) == (600, 600)
        assert total.points.upper == 0
        assert not total.whole


def test_where_the_supervisor_took_over_both_had_the_machine_in_hand(
    database: Database, cast: Cast
) -> None:
    with database.writing() as session:
        a_machine(session, cast)
        a_signed_practical(session, cast.shop, COURSE, NOW, worked())
        assert day_of(session, cast, cast.shop.supervisor).total.seconds == 0
        a_signed_practical(
            session, cast.shop, COURSE, NOW, worked(help_given=Help.TOOK_OVER, seconds=300)
        )
        assert day_of(session, cast, cast.shop.supervisor).total.seconds == 240
        assert day_of(session, cast).total.seconds == 900
        assert day_of(session, cast, cast.shop.second_supervisor).lines == ()


@pytest.mark.parametrize(
    ("at", "zone", "counted"),
    [
        (datetime(2026, 3, 2, 0, 0, tzinfo=UTC), "UTC", True),
        (datetime(2026, 3, 1, 23, 59, 59, tzinfo=UTC), "UTC", False),
        (datetime(2026, 3, 2, 23, 59, 59, tzinfo=UTC), "UTC", True),
        (datetime(2026, 3, 3, 0, 0, tzinfo=UTC), "UTC", False),
        (datetime(2026, 3, 1, 23, 0, tzinfo=UTC), "Europe/Berlin", True),
        (datetime(2026, 3, 2, 23, 0, tzinfo=UTC), "Europe/Berlin", False),
        (datetime(2026, 3, 2, 5, 59, tzinfo=UTC), "America/Chicago", False),
        (datetime(2026, 3, 3, 5, 59, tzinfo=UTC), "America/Chicago", True),
    ],
)
def test_a_day_is_a_day_on_the_shops_clock(
    database: Database, cast: Cast, at: datetime, zone: str, counted: bool
) -> None:
    with database.writing() as session:
        change_settings(session, actor=cast.shop.owner, settings=ShopPolicy(zone), now=NOW)
        a_signed_practical(session, cast.shop, COURSE, at, worked())
        assert bool(day_of(session, cast).lines) is counted


def test_a_drill_at_a_machine_without_a_time_leaves_the_day_open(
    database: Database, cast: Cast
) -> None:
    trainee = cast.shop.trainee
    entry = NewEntry(uuid4(), trainee.person_id, DRILL.id, None, NOW.date())
    with database.writing() as session:
        machine_id = a_machine(session, cast)
        state(session, trainee, a_time(cast, seconds=0))
        logbook.write_entry(session, actor=trainee, new=entry, course=COURSE, now=NOW)
        session.flush()
        assert day_of(session, cast).total.without_time == 1
        state(session, trainee, a_time(cast, entry_id=entry.id, machine_id=machine_id))
        assert day_of(session, cast).total.whole


def test_a_corrected_entry_keeps_its_time_and_one_taken_back_loses_it(
    database: Database, cast: Cast
) -> None:
    trainee = cast.shop.trainee
    task = COURSE.tasks[0].id
    old = NewEntry(uuid4(), trainee.person_id, task, PracticeStage.ASSISTED, NOW.date())
    new = replace(old, id=uuid4(), stage=PracticeStage.SUPERVISED)
    correction: dict[str, Any] = {"actor": trainee, "course": COURSE, "now": NOW, "reason": "why"}
    with database.writing() as session:
        logbook.write_entry(session, actor=trainee, new=old, course=COURSE, now=NOW)
        session.flush()
        state(session, trainee, a_time(cast, entry_id=old.id))
        logbook.correct_entry(session, corrected_id=old.id, new=new, new_id=new.id, **correction)
        session.flush()
        assert day_of(session, cast).total.seconds == 1800
        logbook.correct_entry(session, corrected_id=new.id, new=None, new_id=uuid4(), **correction)
        session.flush()
        assert day_of(session, cast).total.seconds == 0


def test_a_time_is_corrected_once_with_a_reason_and_both_stay(
    database: Database, cast: Cast
) -> None:
    trainee, old = cast.shop.trainee, a_time(cast)
    new = a_time(cast, seconds=600)
    with database.writing() as session:
        state(session, trainee, old)
        with pytest.raises(NoReason):
            tool_time.correct_tool_time(
                session, actor=trainee, corrected_id=old.id, new=new, reason="", now=NOW
            )
        for _ in range(2):
            tool_time.correct_tool_time(
                session, actor=trainee, corrected_id=old.id, new=new, reason="ten", now=NOW
            )
            session.flush()
        assert day_of(session, cast).total.seconds == 600
        with pytest.raises(AlreadyCorrected):
            tool_time.correct_tool_time(
                session, actor=trainee, corrected_id=old.id, new=a_time(cast), reason="x", now=NOW
            )


def test_who_may_state_a_time(database: Database, cast: Cast) -> None:
    own, of_supervisor = a_time(cast), a_time(cast, person_id=cast.shop.supervisor.person_id)
    with database.writing() as session:
        with pytest.raises(NotAllowed):
            state(session, cast.shop.trainee, of_supervisor)
        with pytest.raises(NotFound):
            state(session, cast.strangers.supervisor, own)
        with pytest.raises(NotFound):
            state(session, cast.shop.trainee, a_time(cast, machine_id=uuid4()))
        with pytest.raises(NotFound):
            state(session, cast.shop.trainee, a_time(cast, entry_id=uuid4()))
        with pytest.raises(DayToCome):
            state(session, cast.shop.trainee, a_time(cast, worked_on=later(days=1).date()))


def test_a_value_changed_later_does_not_change_a_day_that_was_stated(
    database: Database, cast: Cast
) -> None:
    """The value as it stood that day is kept with the time."""
    with database.writing() as session:
        stated = a_time(cast, vibration_m_s2=Decimal("4.2"), says="a sander elsewhere")
        state(session, cast.shop.trainee, stated)
        (line,) = day_of(session, cast).lines
        assert line.time.vibration is not None
        assert line.time.vibration.m_s2 == 4.2
        assert day_of(session, cast).total.uncertainty_missing


def test_before_a_step_the_machine_that_shakes_most_is_counted_with(
    database: Database, cast: Cast
) -> None:
    with database.writing() as session:
        strong = a_machine(session, cast)
        gentle = tools.add_machine(
            session, actor=cast.shop.supervisor, machine_id=uuid4(),
            machine=tools.NewMachine("Rotary", Machine.ROTARY, 125, None, Decimal(2)), now=NOW,
        )  # fmt: skip
        session.flush()
        asked: dict[str, Any] = {
            "shop_id": cast.shop.shop_id,
            "person_id": cast.shop.trainee.person_id,
            "course": COURSE,
            "now": NOW,
        }
        _day, unknown = advice_before_step(session, **asked)
        # at most 6 m/s²: 72 points an hour, 100 points in 83.3 minutes
        assert unknown.minutes_to_action == pytest.approx(100 / 72 * 60)
        assert advice_before_step(session, **asked, machine_id=strong)[1] == unknown
        _day, other = advice_before_step(session, **asked, machine_id=gentle)
        assert other.minutes_to_action == pytest.approx(100 / 8 * 60)
        state(session, cast.shop.trainee, a_time(cast, machine_id=strong, seconds=4200))
        day, warned = advice_before_step(session, **asked)
        assert day.total.points.upper == pytest.approx(84)
        assert warned.warned is Warned.NEAR_ACTION


def test_the_country_says_whose_values_hold(database: Database, cast: Cast) -> None:
    with database.writing() as session:
        assert isinstance(day_of(session, cast).values.basis, NoCountryStated)
        settings = ShopPolicy(country="SE")
        change_settings(session, actor=cast.shop.owner, settings=settings, now=NOW)
        assert isinstance(day_of(session, cast).values.basis, SetByLaw)
        with pytest.raises(UnknownCountry):
            change_settings(
                session, actor=cast.shop.owner, settings=ShopPolicy(country="Sweden"),
                now=NOW + timedelta(hours=1),
            )  # fmt: skip
