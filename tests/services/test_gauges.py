"""Verifying a gauge, being refused without, and what rests on one that failed."""

from __future__ import annotations

from datetime import datetime
from decimal import Decimal
from uuid import UUID, uuid4

import pytest
from sqlalchemy.orm import Session

from academy.domain.curriculum.kinds import Substrate
from academy.domain.metrology.methods import GaugeMethod
from academy.domain.metrology.verification import Combine
from academy.domain.workshop.gauges import GaugeFailed, GaugeNotVerified, WrongMethod
from academy.domain.workshop.policy import ShopPolicy, UnknownTimeZone
from academy.services import gauges, shop_settings, workshop
from academy.services.actor import Actor, NotAllowed, NotFound
from academy.services.journal import check_journal
from academy.store.database import Database
from academy.store.queries.evidence import standing_rows
from academy.store.queries.gauges import verifications
from academy.store.queries.shop_settings import policy
from academy.store.queries.workshop import gauge
from academy.store.tables.journal import JournalEntry
from tests.support.cast import Cast
from tests.support.clock import NOW, later
from tests.support.course import a_course
from tests.support.journey import a_signed_practical
from tests.support.panel_work import a_gauge


def verify(
    session: Session, actor: Actor, gauge_id: UUID, shown: str = "100.0", now: datetime = NOW
) -> gauges.Verified:
    """Read zero and one foil of 100 µm three times each."""
    foil_id = gauges.add_foil(
        session, actor=actor, foil_id=uuid4(),
        foil=gauges.NewFoil("Foil 100", Decimal(100), Decimal("0.5")), now=NOW,
    )  # fmt: skip
    session.flush()
    readings = (Decimal(shown),) * 3
    new = gauges.NewVerification(
        uuid4(), gauge_id, GaugeMethod.MAGNETIC, (Decimal("0.1"),) * 3, {foil_id: readings}
    )
    return gauges.verify_gauge(session, actor=actor, new=new, now=now)


def test_a_gauge_is_refused_until_it_is_verified_today(database: Database, cast: Cast) -> None:
    shop, gauge_id = cast.shop, cast.shop.bench.gauge_id
    with database.writing() as session:
        with pytest.raises(GaugeNotVerified, match="two minutes"):
            gauges.refuse_unverified(session, shop.shop_id, gauge_id, NOW)
        assert verify(session, shop.supervisor, gauge_id).passed
        gauges.refuse_unverified(session, shop.shop_id, gauge_id, later(hours=8))
        with pytest.raises(GaugeNotVerified):
            gauges.refuse_unverified(session, shop.shop_id, gauge_id, later(days=1))


def test_each_method_is_verified_by_itself(database: Database, cast: Cast) -> None:
    shop = cast.shop
    with database.writing() as session:
        verify(session, shop.supervisor, shop.bench.gauge_id)
        with pytest.raises(GaugeNotVerified, match="eddy current"):
            gauges.refuse_unverified(
                session, shop.shop_id, shop.bench.gauge_id, NOW, Substrate.ALUMINIUM
            )
        steel_only = workshop.add_gauge(
            session, actor=shop.owner, gauge_id=uuid4(),
            gauge=a_gauge(methods=(GaugeMethod.MAGNETIC,)), now=NOW,
        )  # fmt: skip
        session.flush()
        with pytest.raises(WrongMethod, match="aluminium"):
            gauges.refuse_unverified(session, shop.shop_id, steel_only, NOW, Substrate.ALUMINIUM)


def test_a_failed_verification_stops_the_gauge_and_marks_what_rests_on_it(
    database: Database, cast: Cast
) -> None:
    course = a_course()
    shop, gauge_id = cast.shop, cast.shop.bench.gauge_id
    with database.writing() as session:
        verify(session, shop.supervisor, gauge_id, now=later(hours=-1))
        done = a_signed_practical(session, shop, course)
        assert gauges.suspect_practicals(session, shop.shop_id) == []
        before = list(standing_rows(session, shop.shop_id, shop.trainee.person_id))
        failed = verify(session, shop.supervisor, gauge_id, "104.0", now=later(hours=6))
        assert not failed.passed
        with pytest.raises(GaugeFailed):
            gauges.refuse_unverified(session, shop.shop_id, gauge_id, later(hours=7))
        (suspect,) = gauges.suspect_practicals(session, shop.shop_id)
        assert suspect.practical_id == done.id
        assert suspect.trainee_name == "Mira Holt"
        assert suspect.doubt.remeasure_by == later(days=14).date()
        assert list(standing_rows(session, shop.shop_id, shop.trainee.person_id)) == before
        assert gauges.suspect_practicals(session, cast.strangers.shop_id) == []


def test_a_verification_sent_twice_is_kept_once_and_enters_the_journal(
    database: Database, cast: Cast
) -> None:
    shop = cast.shop
    with database.writing() as session:
        foil_id = gauges.add_foil(
            session, actor=shop.owner, foil_id=uuid4(),
            foil=gauges.NewFoil("Foil 50", Decimal(50), Decimal("0.5")), now=NOW,
        )  # fmt: skip
        session.flush()
        new = gauges.NewVerification(
            uuid4(), shop.bench.gauge_id, GaugeMethod.MAGNETIC,
            (Decimal(0),) * 3, {foil_id: (Decimal("50.2"),) * 3},
        )  # fmt: skip
        for _ in range(2):
            gauges.verify_gauge(session, actor=shop.supervisor, new=new, now=NOW)
    with database.reading() as session:
        (kept,) = verifications(session, shop.shop_id, shop.bench.gauge_id)
        assert [line["mean_um"] for line in kept.checks] == ["0.000", "50.200"]
        kinds = [
            entry.kind for entry in session.query(JournalEntry).filter_by(shop_id=shop.shop_id)
        ]
        assert kinds.count("gauge verified") == 1
        assert check_journal(session, shop.shop_id).whole


def test_a_trainee_verifies_nothing_and_a_strangers_gauge_is_not_there(
    database: Database, cast: Cast
) -> None:
    with database.writing() as session:
        with pytest.raises(NotAllowed):
            verify(session, cast.shop.trainee, cast.shop.bench.gauge_id)
        with pytest.raises(NotFound):
            verify(session, cast.shop.supervisor, cast.strangers.bench.gauge_id)


def test_the_owner_decides_how_tolerances_add(database: Database, cast: Cast) -> None:
    """At 100 µm the default tolerances allow 2.06 µm by root-sum-square and 2.5 by their sum."""
    shop = cast.shop
    with database.writing() as session:
        assert not verify(session, shop.supervisor, shop.bench.gauge_id, "102.3").passed
        with pytest.raises(NotAllowed):
            shop_settings.change_settings(
                session, actor=shop.supervisor, settings=ShopPolicy(), now=NOW
            )
        looser = ShopPolicy(combine=Combine.SUM, car_cap_um=Decimal(6))
        shop_settings.change_settings(session, actor=shop.owner, settings=looser, now=NOW)
        assert policy(session, shop.shop_id) == looser
        assert policy(session, cast.strangers.shop_id) == ShopPolicy()
        assert verify(session, shop.supervisor, shop.bench.gauge_id, "102.3").passed


def test_a_time_zone_that_is_none_changes_nothing(database: Database, cast: Cast) -> None:
    with database.writing() as session:
        with pytest.raises(UnknownTimeZone):
            shop_settings.change_settings(
                session, actor=cast.shop.owner, settings=ShopPolicy("Mars/Base"), now=NOW
            )
        assert policy(session, cast.shop.shop_id) == ShopPolicy()


def test_a_studys_repeatability_becomes_the_gauges(database: Database, cast: Cast) -> None:
    shop = cast.shop
    with database.writing() as session:
        gauges.take_over_repeatability(
            session, actor=shop.supervisor, gauge_id=shop.bench.gauge_id,
            repeatability_um=Decimal("0.42"), now=NOW,
        )  # fmt: skip
        session.flush()
        kept = gauge(session, shop.shop_id, shop.bench.gauge_id)
        assert kept is not None
        assert kept.repeatability_um == Decimal("0.42")
