"""Column types that hold what the databases would otherwise lose."""

from __future__ import annotations

import json
from datetime import UTC, datetime
from decimal import Decimal
from enum import StrEnum
from typing import Any

import rfc8785
from sqlalchemy import DateTime, Enum, Integer, Text
from sqlalchemy.engine import Dialect
from sqlalchemy.types import TypeDecorator


class UtcDateTime(TypeDecorator[datetime]):
    """An aware time in UTC; SQLite hands times back without a zone, so both ends are cured here."""

    impl = DateTime(timezone=True)
    cache_ok = True

    def process_bind_param(self, value: datetime | None, dialect: Dialect) -> datetime | None:
        if value is None:
            return None
        if value.tzinfo is None:
            raise ValueError(f"{value!r} has no time zone; give an aware time")
        return value.astimezone(UTC)

    def process_result_value(self, value: datetime | None, dialect: Dialect) -> datetime | None:
        if value is None:
            return None
        return value.replace(tzinfo=UTC) if value.tzinfo is None else value.astimezone(UTC)


class CanonicalJson(TypeDecorator[Any]):
    """JSON kept as its RFC 8785 text, so that its digest can be taken again at any time."""

    impl = Text
    cache_ok = True

    def process_bind_param(self, value: Any, dialect: Dialect) -> str | None:
        return None if value is None else rfc8785.dumps(value).decode()

    def process_result_value(self, value: str | None, dialect: Dialect) -> Any:
        return None if value is None else json.loads(value)


class Thousandths(TypeDecorator[Decimal]):
    """A decimal kept exactly, as an integer of thousandths; SQLite has no decimals of its own."""

    impl = Integer
    cache_ok = True

    def process_bind_param(self, value: Decimal | None, dialect: Dialect) -> int | None:
        if value is None:
            return None
        thousandths = Decimal(value) * 1000
        if thousandths != thousandths.to_integral_value():
            raise ValueError(f"{value} has more than three decimals")
        return int(thousandths)

    def process_result_value(self, value: int | None, dialect: Dialect) -> Decimal | None:
        if value is None:
            return None
        # "f": normalize() alone would write ten as 1E+1
        return Decimal(f"{(Decimal(value) / 1000).normalize():f}")


def word(kind: type[StrEnum], name: str | None = None) -> Enum:
    """Return a column type for an enumeration kept as its checked word.

    ``name`` names the check where a table has two columns of one enumeration.
    """
    return Enum(
        kind,
        native_enum=False,
        create_constraint=True,
        length=40,
        name=name or kind.__name__.lower(),
        values_callable=lambda members: [member.value for member in members],
    )
