"""Readings are refused unless the practical's gauge was verified that day."""

from __future__ import annotations

from datetime import datetime
from uuid import uuid4

import pytest
from sqlalchemy import func, select
from sqlalchemy.orm import Session

from academy.domain.curriculum.course import Course
from academy.domain.curriculum.kinds import Substrate
from academy.domain.metrology.methods import GaugeMethod
from academy.domain.practical.record import Practical
from academy.domain.practical.stages import Stage
from academy.domain.workshop.gauges import GaugeFailed, GaugeNotVerified, WrongMethod
from academy.services import practical, workshop
from academy.services.gauge_trust import why_not_read
from academy.store.database import Database
from academy.store.queries.practicals import StoredPractical, stored_practical
from academy.store.queries.workshop import sections
from academy.store.tables.practicals import PracticalStep
from tests.services.test_gauges import verify
from tests.support.cast import Cast
from tests.support.clock import NOW, later
from tests.support.journey import PanelSession
from tests.support.morning import verify_for_the_day
from tests.support.panel_work import a_gauge, a_panel, bodies


def read(at_panel: PanelSession, stage: Stage, version: int, now: datetime = NOW) -> Practical:
    """Record a stage, readings among them, without verifying anything first."""
    body = dict(bodies(at_panel.task))[stage]
    return practical.record_step(
        at_panel.session, actor=at_panel.people.supervisor, practical_id=at_panel.id,
        step_id=uuid4(), stage=stage, body=body, seen_version=version, now=now,
    )  # fmt: skip


def before_anything_is_read(at_panel: PanelSession) -> int:
    """Record what comes before the first round of readings; return how many steps that is."""
    ahead = list(dict(bodies(at_panel.task)))
    for version, stage in enumerate(ahead[: ahead.index(Stage.BEFORE)]):
        read(at_panel, stage, version)
    return ahead.index(Stage.BEFORE)


def steps(session: Session) -> int:
    """Return how many steps are written."""
    session.flush()
    return session.scalar(select(func.count()).select_from(PracticalStep)) or 0


def stored(at_panel: PanelSession) -> StoredPractical:
    """Return the practical as it is stored."""
    found = stored_practical(at_panel.session, at_panel.people.shop_id, at_panel.id)
    assert found is not None
    return found


def test_no_reading_is_kept_before_the_gauge_is_verified(
    database: Database, cast: Cast, course: Course
) -> None:
    with database.writing() as session:
        at_panel = PanelSession(session, cast.shop, course)
        at_panel.open()
        version = before_anything_is_read(at_panel)
        with pytest.raises(GaugeNotVerified, match="Workshop, Verify a gauge"):
            read(at_panel, Stage.BEFORE, version)
        assert steps(session) == version
        assert isinstance(
            why_not_read(session, cast.shop.shop_id, stored(at_panel), NOW), GaugeNotVerified
        )
        verify_for_the_day(session, cast.shop, NOW)
        assert why_not_read(session, cast.shop.shop_id, stored(at_panel), NOW) is None
        assert read(at_panel, Stage.BEFORE, version).version == version + 1


def test_yesterdays_verification_and_a_failed_one_stop_the_readings_after(
    database: Database, cast: Cast, course: Course
) -> None:
    with database.writing() as session:
        at_panel = PanelSession(session, cast.shop, course)
        at_panel.open()
        version = 0
        for stage, body in bodies(at_panel.task):
            if stage is Stage.AFTER:
                break
            version = at_panel.record(stage, body, version)
        with pytest.raises(GaugeNotVerified):
            read(at_panel, Stage.AFTER, version, later(days=1))
        verify(session, cast.shop.supervisor, cast.shop.bench.gauge_id, "104.0", later(hours=1))
        session.flush()
        with pytest.raises(GaugeFailed):
            read(at_panel, Stage.AFTER, version, later(hours=2))
        assert steps(session) == version
        verify(session, cast.shop.supervisor, cast.shop.bench.gauge_id, now=later(hours=3))
        session.flush()
        assert read(at_panel, Stage.AFTER, version, later(hours=4)).version == version + 1


def test_a_gauge_without_the_panels_method_is_refused_before_the_first_reading(
    database: Database, cast: Cast, course: Course
) -> None:
    with database.writing() as session:
        gauge_id = workshop.add_gauge(
            session, actor=cast.shop.owner, gauge_id=uuid4(),
            gauge=a_gauge(methods=(GaugeMethod.EDDY_CURRENT,)), now=NOW,
        )  # fmt: skip
        session.flush()
        with pytest.raises(WrongMethod, match="cannot read paint on steel"):
            PanelSession(session, cast.shop, course).open(gauge_id=gauge_id)


def test_aluminium_asks_for_the_other_methods_verification(
    database: Database, cast: Cast, course: Course
) -> None:
    with database.writing() as session:
        panel_id = workshop.add_panel(
            session, actor=cast.shop.supervisor, panel_id=uuid4(),
            panel=a_panel(label="Wing", substrate=Substrate.ALUMINIUM), now=NOW,
        )  # fmt: skip
        session.flush()
        wing = next(s.id for s in sections(session, cast.shop.shop_id) if s.panel_id == panel_id)
        at_panel = PanelSession(session, cast.shop, course)
        at_panel.open(section_id=wing)
        verify(session, cast.shop.supervisor, cast.shop.bench.gauge_id)
        session.flush()
        version = before_anything_is_read(at_panel)
        with pytest.raises(GaugeNotVerified, match="eddy current"):
            read(at_panel, Stage.BEFORE, version)
        verify_for_the_day(session, cast.shop, NOW)
        assert read(at_panel, Stage.BEFORE, version).version == version + 1
