"""What every table shares: names of constraints and the key of a shop's own things."""

from __future__ import annotations

from datetime import datetime
from typing import Annotated, Any, ClassVar
from uuid import UUID

from sqlalchemy import ForeignKey, MetaData, String, Uuid
from sqlalchemy.orm import DeclarativeBase, mapped_column

from academy.store.types import UtcDateTime

NAMES = {
    "ix": "ix_%(table_name)s_%(column_0_N_name)s",
    "uq": "uq_%(table_name)s_%(column_0_N_name)s",
    "ck": "ck_%(table_name)s_%(constraint_name)s",
    "fk": "fk_%(table_name)s_%(column_0_N_name)s",
    "pk": "pk_%(table_name)s",
}


class Base(DeclarativeBase):
    """The base of all tables; ids are UUIDs, which a client may make."""

    metadata = MetaData(naming_convention=NAMES)
    type_annotation_map: ClassVar[dict[Any, Any]] = {datetime: UtcDateTime(), UUID: Uuid()}


ShopKey = Annotated[UUID, mapped_column(ForeignKey("shops.id"), primary_key=True)]
OwnKey = Annotated[UUID, mapped_column(primary_key=True)]
Digest = Annotated[str, mapped_column(String(64))]
Name = Annotated[str, mapped_column(String(200))]
