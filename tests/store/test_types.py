"""Column types that hold what the databases would otherwise lose."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta, timezone
from decimal import Decimal
from typing import Any
from uuid import uuid4

import pytest
from hypothesis import given
from hypothesis import strategies as st
from sqlalchemy import select, text
from sqlalchemy.exc import IntegrityError, StatementError
from sqlalchemy.orm import Session

from academy.domain.curriculum.kinds import Substrate
from academy.domain.metrology.budget import History
from academy.domain.workshop.panels import ClearCoat, Curvature
from academy.store.database import Database
from academy.store.tables.certification import FrozenDocument
from academy.store.tables.people import Shop
from academy.store.tables.study import Answer
from academy.store.tables.workshop import Gauge, Panel
from academy.store.types import CanonicalJson, Thousandths, UtcDateTime
from tests.support.clock import NOW


def a_shop(session: Session, created_at: datetime = NOW) -> Shop:
    """Add a shop and return it."""
    shop = Shop(id=uuid4(), name="A shop", created_at=created_at)
    session.add(shop)
    session.flush()
    return shop


def read_again(database: Database, created_at: datetime) -> datetime:
    """Keep a moment and return what the database gives back."""
    with database.writing() as session:
        shop_id = a_shop(session, created_at).id
    with database.reading() as session:
        return session.get_one(Shop, shop_id).created_at


class TestUtcDateTime:
    def test_a_moment_without_a_zone_is_refused(self, database: Database) -> None:
        with pytest.raises(StatementError, match="has no time zone"):
            read_again(database, datetime(2026, 3, 2, 9, 30))  # noqa: DTZ001

    @pytest.mark.parametrize("hours", [-8, 0, 1, 5.75, 14])
    def test_a_moment_comes_back_in_utc_to_the_microsecond(
        self, database: Database, hours: float
    ) -> None:
        there = timezone(timedelta(hours=hours))
        moment = datetime(2026, 3, 2, 0, 15, 30, 123456, tzinfo=there)
        again = read_again(database, moment)
        assert again == moment
        assert again.tzinfo is UTC

    def test_moments_are_compared_as_moments(self, database: Database) -> None:
        west, east = timezone(timedelta(hours=-8)), timezone(timedelta(hours=9))
        with database.writing() as session:
            a_shop(session, datetime(2026, 3, 1, 20, 0, tzinfo=west))  # 04:00 UTC next day
            a_shop(session, datetime(2026, 3, 2, 12, 30, tzinfo=east))  # 03:30 UTC
            moments = list(session.scalars(select(Shop.created_at).order_by(Shop.created_at)))
        assert moments == [
            datetime(2026, 3, 2, 3, 30, tzinfo=UTC),
            datetime(2026, 3, 2, 4, tzinfo=UTC),
        ]

    def test_no_moment_stays_none(self) -> None:
        kind: Any = UtcDateTime()
        assert kind.process_bind_param(None, None) is None
        assert kind.process_result_value(None, None) is None


class TestThousandths:
    @pytest.mark.parametrize(
        "value", ["0.1", "0.4", "0.001", "12.345", "1", "10", "100", "1000", "1.50", "2000000"]
    )
    def test_a_decimal_comes_back_exactly_and_reads_as_it_was_written(
        self, database: Database, value: str
    ) -> None:
        with database.writing() as session:
            shop, gauge_id = a_shop(session), uuid4()
            session.add(
                Gauge(
                    shop_id=shop.id, id=gauge_id, label="G", serial="", created_at=NOW,
                    resolution_um=Decimal(value), repeatability_um=Decimal(0),
                    methods=["magnetic"], tolerance_um=Decimal(1), tolerance_percent=Decimal(0),
                    certificate_number="",
                )
            )  # fmt: skip
            key = (shop.id, gauge_id)
        with database.reading() as session:
            kept = session.get_one(Gauge, key)
        assert kept.resolution_um == Decimal(value)
        assert "E" not in str(kept.resolution_um)
        assert str(kept.repeatability_um) == "0"

    @pytest.mark.parametrize("value", ["0.0001", "1.2345", "1e-9"])
    def test_more_than_three_decimals_are_refused_and_not_rounded(self, value: str) -> None:
        kind: Any = Thousandths()
        with pytest.raises(ValueError, match="more than three decimals"):
            kind.process_bind_param(Decimal(value), None)

    @given(st.integers(-(2**31), 2**31 - 1))
    def test_every_integer_of_thousandths_is_one_decimal(self, thousandths: int) -> None:
        kind: Any = Thousandths()
        value = kind.process_result_value(thousandths, None)
        assert kind.process_bind_param(value, None) == thousandths
        assert Decimal(str(value)) * 1000 == thousandths

    def test_no_decimal_stays_none(self) -> None:
        kind: Any = Thousandths()
        assert kind.process_bind_param(None, None) is None
        assert kind.process_result_value(None, None) is None


json_values = st.recursive(
    st.none() | st.booleans() | st.integers(-(2**53) + 1, 2**53 - 1) | st.text(
        st.characters(exclude_categories=["Cs"]), max_size=6
    ),
    lambda inner: st.lists(inner, max_size=4)
    | st.dictionaries(st.text(st.characters(exclude_categories=["Cs"]), max_size=4), inner),
    max_leaves=10,
)  # fmt: skip


class TestCanonicalJson:
    @given(json_values)
    def test_a_value_comes_back_and_has_one_spelling(self, value: Any) -> None:
        kind: Any = CanonicalJson()
        written = kind.process_bind_param(value, None)
        again = kind.process_result_value(written, None)
        assert again == value
        assert kind.process_bind_param(again, None) == written

    def test_it_is_kept_as_the_text_that_was_signed(self, database: Database) -> None:
        body = {"b": None, "a": [1, "µ"]}
        with database.writing() as session:
            session.add(FrozenDocument(digest="d", kind="k", body=body, kept_at=NOW))
            session.flush()
            kept = session.scalar(text("SELECT body FROM frozen_documents"))
        assert kept == '{"a":[1,"µ"],"b":null}'


class TestWords:
    @pytest.mark.parametrize("word", ["wood", "STEEL", "", "Substrate.STEEL"])
    def test_the_database_itself_refuses_a_word_that_is_none_of_ours(
        self, database: Database, word: str
    ) -> None:
        with database.writing() as session:
            shop = a_shop(session)
            session.add(
                Panel(
                    shop_id=shop.id, id=uuid4(), label="P", substrate=Substrate.STEEL,
                    paint_system="", curvature=Curvature.FLAT, colour="",
                    clear_coat=ClearCoat.UNKNOWN, history=History.UNKNOWN, created_at=NOW,
                )
            )  # fmt: skip
        with pytest.raises(IntegrityError), database.writing() as session:
            session.execute(text("UPDATE panels SET substrate = :word"), {"word": word})

    def test_a_word_is_kept_as_it_is_written_in_documents(self, database: Database) -> None:
        with database.writing() as session:
            shop = a_shop(session)
            session.add(
                Panel(
                    shop_id=shop.id, id=uuid4(), label="P", substrate=Substrate.ALUMINIUM,
                    paint_system="", curvature=Curvature.FLAT, colour="",
                    clear_coat=ClearCoat.UNKNOWN, history=History.UNKNOWN, created_at=NOW,
                )
            )  # fmt: skip
            session.flush()
            assert session.scalar(text("SELECT substrate FROM panels")) == "aluminium"


def test_a_row_that_points_at_nothing_is_refused(database: Database) -> None:
    stray = Answer(
        shop_id=uuid4(), id=uuid4(), sitting_id=uuid4(), number=1, question_id="q",
        response={}, answered_at=NOW,
    )  # fmt: skip
    with pytest.raises(IntegrityError), database.writing() as session:
        session.add(stray)
