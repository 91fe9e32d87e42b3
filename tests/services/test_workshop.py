"""Panels with their sections, and gauges."""

from __future__ import annotations

from decimal import Decimal
from uuid import uuid4

import pytest
from sqlalchemy.exc import IntegrityError

from academy.services import workshop
from academy.services.actor import NotAllowed
from academy.store.database import Database
from academy.store.queries.workshop import gauge, gauges, section, sections
from tests.support.cast import Cast
from tests.support.clock import NOW
from tests.support.panel_work import a_gauge, a_panel


def test_a_panel_sent_twice_is_added_once(database: Database, cast: Cast) -> None:
    panel_id = uuid4()
    for _ in range(2):
        with database.writing() as session:
            workshop.add_panel(
                session, actor=cast.shop.owner, panel_id=panel_id,
                panel=a_panel(label="Wing 4", sections=3, spots=5), now=NOW,
            )  # fmt: skip
    with database.reading() as session:
        mine = [row for row in sections(session, cast.shop.shop_id) if row.panel_id == panel_id]
    assert [(row.name, row.spots) for row in mine] == [
        ("Wing 4, 1", 5),
        ("Wing 4, 2", 5),
        ("Wing 4, 3", 5),
    ]


def test_sections_are_listed_in_their_order(database: Database, cast: Cast) -> None:
    with database.writing() as session:
        workshop.add_panel(
            session, actor=cast.shop.owner, panel_id=uuid4(),
            panel=a_panel(label="Wing 4", sections=12), now=NOW,
        )  # fmt: skip
    with database.reading() as session:
        labels = [s.label for s in sections(session, cast.shop.shop_id) if "Wing" in s.name]
    assert labels == [str(number) for number in range(1, 13)]


def test_a_gauge_sent_twice_is_added_once(database: Database, cast: Cast) -> None:
    gauge_id = uuid4()
    for label in ("Gauge 2", "Gauge 3"):
        with database.writing() as session:
            workshop.add_gauge(
                session, actor=cast.shop.supervisor, gauge_id=gauge_id,
                gauge=a_gauge(label=label), now=NOW,
            )  # fmt: skip
    with database.reading() as session:
        labels = [row.label for row in gauges(session, cast.shop.shop_id)]
    assert labels == ["Bench gauge", "Gauge 2"]


def test_a_trainee_changes_nothing_in_the_workshop(database: Database, cast: Cast) -> None:
    with database.writing() as session:
        with pytest.raises(NotAllowed):
            workshop.add_panel(
                session, actor=cast.shop.trainee, panel_id=uuid4(), panel=a_panel(), now=NOW
            )
        with pytest.raises(NotAllowed):
            workshop.add_gauge(
                session, actor=cast.shop.trainee, gauge_id=uuid4(), gauge=a_gauge(), now=NOW
            )


def test_what_strangers_have_is_not_there(database: Database, cast: Cast) -> None:
    theirs = cast.strangers.bench
    with database.reading() as session:
        assert gauge(session, cast.shop.shop_id, theirs.gauge_id) is None
        assert section(session, cast.shop.shop_id, theirs.section_ids[0]) is None
        assert gauge(session, cast.strangers.shop_id, theirs.gauge_id) is not None


@pytest.mark.parametrize(
    ("resolution", "repeatability"),
    [
        (Decimal(0), Decimal("0.3")),
        (Decimal("-0.1"), Decimal("0.3")),
        (Decimal("0.1"), Decimal(-1)),
    ],
    ids=["shows nothing", "shows less than nothing", "scatters less than nothing"],
)
def test_the_database_itself_refuses_an_impossible_gauge(
    database: Database, cast: Cast, resolution: Decimal, repeatability: Decimal
) -> None:
    broken = a_gauge(resolution_um=resolution, repeatability_um=repeatability)
    with pytest.raises(IntegrityError), database.writing() as session:
        workshop.add_gauge(session, actor=cast.shop.owner, gauge_id=uuid4(), gauge=broken, now=NOW)


@pytest.mark.parametrize("spots", [0, 41, -1])
def test_the_database_itself_refuses_a_section_without_sensible_spots(
    database: Database, cast: Cast, spots: int
) -> None:
    with pytest.raises(IntegrityError), database.writing() as session:
        workshop.add_panel(
            session, actor=cast.shop.owner, panel_id=uuid4(), panel=a_panel(spots=spots), now=NOW
        )
