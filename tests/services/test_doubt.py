"""Readings a failed gauge puts in doubt: how long they count, and the three ways out."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime
from decimal import Decimal
from uuid import UUID, uuid4

import pytest
from sqlalchemy import select
from sqlalchemy.orm import Session

from academy.domain.curriculum.course import Course
from academy.domain.people import NotTheirOwn
from academy.domain.practical.counting import (
    InDoubt,
    NotMeasuredAgain,
    ReadingsRefused,
    doubt_shown,
    why_not_counted,
)
from academy.domain.practical.stages import Stage
from academy.domain.workshop.gauges import GaugeNotVerified
from academy.domain.workshop.measured_again import (
    EverySpotAgain,
    NothingInDoubt,
    ReasonNeeded,
    StillAtThePanel,
    WorkedSince,
)
from academy.services import workshop
from academy.services.actor import NotAllowed, NotFound
from academy.services.doubt import Decision, NewReadings, decide_doubt, doubt_of, measure_again
from academy.services.journal import check_journal
from academy.store.database import Database
from academy.store.queries.evidence import SignedPracticalRow, signed_practicals
from academy.store.queries.gauge_doubts import settlements
from academy.store.queries.practicals import stored_practical
from academy.store.tables.journal import JournalEntry
from tests.services.test_gauges import verify
from tests.support.cast import Cast, ShopPeople
from tests.support.clock import NOW, later
from tests.support.journey import PanelSession, a_signed_practical
from tests.support.panel_work import a_gauge, bodies

FAILED, AFTERWARDS = later(hours=6), later(hours=8)


def in_doubt(session: Session, shop: ShopPeople, course: Course) -> PanelSession:
    """Return a signed practical whose gauge failed in the afternoon."""
    done = a_signed_practical(session, shop, course)
    verify(session, shop.supervisor, shop.bench.gauge_id, "104.0", FAILED)
    session.flush()
    return done


def another_gauge(session: Session, shop: ShopPeople, *, verified: bool = True) -> UUID:
    """Add a gauge, verified for steel in the afternoon unless told otherwise."""
    gauge_id = workshop.add_gauge(
        session, actor=shop.owner, gauge_id=uuid4(),
        gauge=a_gauge(label="Second gauge", serial="T-0002"), now=NOW,
    )  # fmt: skip
    session.flush()
    if verified:
        verify(session, shop.supervisor, gauge_id, now=AFTERWARDS)
        session.flush()
    return gauge_id


def again(
    session: Session, shop: ShopPeople, course: Course, done: PanelSession, film: str,
    gauge_id: UUID, **overrides: object,
) -> bool:  # fmt: skip
    """Measure every spot again and return whether all agree."""
    new = NewReadings(uuid4(), done.id, gauge_id, ((Decimal(film),) * 3,) * course.tasks[0].spots)
    spots = measure_again(
        session, actor=shop.supervisor, new=replace(new, **overrides),  # type: ignore[arg-type]
        course=course, now=AFTERWARDS,
    )  # fmt: skip
    session.flush()
    return all(spot.agrees for spot in spots)


def decide(
    session: Session, shop: ShopPeople, course: Course, done: PanelSession, accepted: bool,
    reason: str = "the section was sanded through since", at: datetime = AFTERWARDS,
) -> None:  # fmt: skip
    """Let the owner decide."""
    decision = Decision(uuid4(), done.id, accepted, reason)
    decide_doubt(session, actor=shop.owner, decision=decision, course=course, now=at)
    session.flush()


def row_of(session: Session, shop: ShopPeople) -> SignedPracticalRow:
    """Return the trainee's only signed practical."""
    (row,) = signed_practicals(session, shop.shop_id, shop.trainee.person_id)
    return row


def test_in_doubt_it_counts_until_the_day_to_measure_again_has_passed(
    database: Database, cast: Cast, course: Course
) -> None:
    with database.writing() as session:
        in_doubt(session, cast.shop, course)
        facts, last_day = row_of(session, cast.shop).facts, later(days=14).date()
        assert why_not_counted(facts, last_day) is None
        assert doubt_shown(facts, last_day) == InDoubt(last_day)
        assert why_not_counted(facts, later(days=15).date()) == NotMeasuredAgain(last_day)


def test_measured_again_and_agreeing_it_stands_and_both_stay_readable(
    database: Database, cast: Cast, course: Course
) -> None:
    shop = cast.shop
    with database.writing() as session:
        done = in_doubt(session, shop, course)
        assert again(session, shop, course, done, "109.4", another_gauge(session, shop))
        assert doubt_of(session, shop.shop_id, done.id) is None
        assert why_not_counted(row_of(session, shop).facts, later(days=60).date()) is None
        (kept,) = settlements(session, shop.shop_id, done.id)
        assert (kept.gauge, kept.settled_by) == ("Second gauge", shop.supervisor.name)
        assert kept.readings[0]["recorded_um"] == "109.200"
        assert kept.readings[0]["readings_um"] == ["109.4"] * 3
        stored = stored_practical(session, shop.shop_id, done.id)
        assert stored is not None
        assert stored.practical.after is not None
        assert stored.practical.after.spots[0].readings_um[0] == Decimal("109.2")


def test_measured_again_and_differing_the_owner_decides(
    database: Database, cast: Cast, course: Course
) -> None:
    shop = cast.shop
    with database.writing() as session:
        done = in_doubt(session, shop, course)
        assert not again(session, shop, course, done, "101.0", another_gauge(session, shop))
        assert doubt_of(session, shop.shop_id, done.id) is not None
        decide(session, shop, course, done, accepted=False, at=later(hours=9))
        assert doubt_of(session, shop.shop_id, done.id) is None
        assert why_not_counted(row_of(session, shop).facts, NOW.date()) == ReadingsRefused()
        ways = [row.way for row in settlements(session, shop.shop_id, done.id)]
        assert ways == ["measured again", "refused"]


def test_accepted_by_the_owner_it_counts_and_the_journal_holds_no_word_of_why(
    database: Database, cast: Cast, course: Course
) -> None:
    shop = cast.shop
    with database.writing() as session:
        done = in_doubt(session, shop, course)
        decide(session, shop, course, done, accepted=True)
        assert why_not_counted(row_of(session, shop).facts, later(days=60).date()) is None
        entry = session.scalars(
            select(JournalEntry).where(
                JournalEntry.shop_id == shop.shop_id, JournalEntry.kind == "doubt settled"
            )
        ).one()
        assert entry.actor_id == shop.owner.person_id
        assert entry.body["way"] == "accepted"
        assert "sanded" not in str(entry.body)
        assert check_journal(session, shop.shop_id).whole


def test_a_later_failure_puts_a_settled_practical_in_doubt_only_by_its_own_readings(
    database: Database, cast: Cast, course: Course
) -> None:
    shop = cast.shop
    with database.writing() as session:
        done = in_doubt(session, shop, course)
        decide(session, shop, course, done, accepted=True)
        verify(session, shop.supervisor, shop.bench.gauge_id, now=later(days=1))
        verify(session, shop.supervisor, shop.bench.gauge_id, "104.0", later(days=2))
        session.flush()
        assert doubt_of(session, shop.shop_id, done.id) is None


def test_who_may_settle_what(database: Database, cast: Cast, course: Course) -> None:
    shop, strangers = cast.shop, cast.strangers
    with database.writing() as session:
        done = in_doubt(session, shop, course)
        decision = Decision(uuid4(), done.id, True, "why not")
        for actor in (shop.trainee, shop.supervisor):
            with pytest.raises(NotAllowed):
                decide_doubt(session, actor=actor, decision=decision, course=course, now=AFTERWARDS)
        with pytest.raises(NotFound):
            decide_doubt(
                session, actor=strangers.owner, decision=decision, course=course, now=AFTERWARDS
            )
        with pytest.raises(NotAllowed):
            measure_again(
                session, actor=shop.trainee, course=course, now=AFTERWARDS,
                new=NewReadings(uuid4(), done.id, shop.bench.gauge_id, ()),
            )  # fmt: skip
        # an owner in training does not decide about their own work
        own = replace(shop.owner, person_id=shop.trainee.person_id)
        with pytest.raises(NotTheirOwn):
            decide_doubt(session, actor=own, decision=decision, course=course, now=AFTERWARDS)
        assert list(settlements(session, shop.shop_id, done.id)) == []


def test_what_cannot_be_settled_is_refused_in_a_sentence(
    database: Database, cast: Cast, course: Course
) -> None:
    shop = cast.shop
    with database.writing() as session:
        sound = a_signed_practical(session, shop, course)
        with pytest.raises(NothingInDoubt):
            decide(session, shop, course, sound, accepted=True)
        standing_open = PanelSession(session, shop, course)
        standing_open.open()
        for number, (stage, body) in enumerate(bodies(standing_open.task)):
            standing_open.record(stage, body, number)
            if stage is Stage.BEFORE:
                break
        verify(session, shop.supervisor, shop.bench.gauge_id, "104.0", FAILED)
        session.flush()
        with pytest.raises(StillAtThePanel):
            decide(session, shop, course, standing_open, accepted=True)
        with pytest.raises(ReasonNeeded):
            decide(session, shop, course, sound, accepted=True, reason="  ")
        unverified = another_gauge(session, shop, verified=False)
        with pytest.raises(GaugeNotVerified):
            again(session, shop, course, sound, "109.2", unverified)
        verify(session, shop.supervisor, unverified, now=AFTERWARDS)
        session.flush()
        with pytest.raises(EverySpotAgain):
            again(session, shop, course, sound, "109.2", unverified, readings_um=())


def test_a_section_worked_since_is_not_measured_again(
    database: Database, cast: Cast, course: Course
) -> None:
    shop = cast.shop
    with database.writing() as session:
        done = a_signed_practical(session, shop, course)
        a_signed_practical(session, shop, course, later(hours=4))  # on the same section
        verify(session, shop.supervisor, shop.bench.gauge_id, "104.0", later(hours=7.5))
        session.flush()
        with pytest.raises(WorkedSince, match="worked since"):
            again(session, shop, course, done, "109.2", another_gauge(session, shop))
        decide(session, shop, course, done, accepted=True)


def test_a_settlement_sent_twice_is_kept_once(
    database: Database, cast: Cast, course: Course
) -> None:
    shop = cast.shop
    with database.writing() as session:
        done = in_doubt(session, shop, course)
        decision = Decision(uuid4(), done.id, False, "the foot was worn")
        for _ in range(2):
            decide_doubt(
                session, actor=shop.owner, decision=decision, course=course, now=AFTERWARDS
            )
            session.flush()
        assert len(settlements(session, shop.shop_id, done.id)) == 1
