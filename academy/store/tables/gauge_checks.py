"""Certified foils, the verifications of gauges, and gauge studies."""

from __future__ import annotations

from datetime import date, datetime
from decimal import Decimal
from typing import Any
from uuid import UUID

from sqlalchemy import CheckConstraint, ForeignKey, ForeignKeyConstraint, Index, String
from sqlalchemy.orm import Mapped, mapped_column

from academy.domain.metrology.methods import GaugeMethod
from academy.domain.metrology.verification import Combine
from academy.store.tables.base import Base, Name, OwnKey, ShopKey
from academy.store.types import CanonicalJson, Thousandths, word


class Foil(Base):
    """A certified foil; its tolerance is the one on its certificate."""

    __tablename__ = "foils"
    shop_id: Mapped[ShopKey]
    id: Mapped[OwnKey]
    label: Mapped[Name]
    certified_um: Mapped[Decimal] = mapped_column(Thousandths)
    tolerance_um: Mapped[Decimal] = mapped_column(Thousandths)
    tolerance_percent: Mapped[Decimal] = mapped_column(Thousandths)
    certificate_number: Mapped[str] = mapped_column(String(100))
    certificate_due_on: Mapped[date | None]
    created_at: Mapped[datetime]
    __table_args__ = (
        CheckConstraint("certified_um > 0", name="certified"),
        CheckConstraint("tolerance_um >= 0 AND tolerance_percent >= 0", name="tolerance"),
    )


class GaugeVerification(Base):
    """One verification on zero and on foils; never changed once written.

    ``checks`` holds each standard with its certified value, tolerance and
    readings as they were typed, so that the judgement can be made again.
    """

    __tablename__ = "gauge_verifications"
    shop_id: Mapped[ShopKey]
    id: Mapped[OwnKey]
    gauge_id: Mapped[UUID]
    method: Mapped[GaugeMethod] = mapped_column(word(GaugeMethod))
    combine: Mapped[Combine] = mapped_column(word(Combine))
    checks: Mapped[list[dict[str, Any]]] = mapped_column(CanonicalJson)
    passed: Mapped[bool]
    verified_at: Mapped[datetime]
    verified_by: Mapped[UUID] = mapped_column(ForeignKey("people.id"))
    __table_args__ = (
        ForeignKeyConstraint(["shop_id", "gauge_id"], ["gauges.shop_id", "gauges.id"]),
        Index(None, "shop_id", "gauge_id", "verified_at"),
    )


class GaugeStudy(Base):
    """A gauge study: several people read the same sections several times.

    ``people`` and ``sections`` are ids in the order of the study.
    """

    __tablename__ = "gauge_studies"
    shop_id: Mapped[ShopKey]
    id: Mapped[OwnKey]
    gauge_id: Mapped[UUID]
    people: Mapped[list[str]] = mapped_column(CanonicalJson)
    sections: Mapped[list[str]] = mapped_column(CanonicalJson)
    repeats: Mapped[int]
    begun_at: Mapped[datetime]
    begun_by: Mapped[UUID] = mapped_column(ForeignKey("people.id"))
    __table_args__ = (
        ForeignKeyConstraint(["shop_id", "gauge_id"], ["gauges.shop_id", "gauges.id"]),
        CheckConstraint("repeats BETWEEN 2 AND 5", name="repeats"),
    )


class GaugeStudyRound(Base):
    """What one person read in one round, a reading for each section, as decimals in text."""

    __tablename__ = "gauge_study_rounds"
    shop_id: Mapped[ShopKey]
    id: Mapped[OwnKey]
    study_id: Mapped[UUID]
    person_id: Mapped[UUID] = mapped_column(ForeignKey("people.id"))
    round: Mapped[int]
    readings_um: Mapped[list[str]] = mapped_column(CanonicalJson)
    recorded_at: Mapped[datetime]
    recorded_by: Mapped[UUID] = mapped_column(ForeignKey("people.id"))
    __table_args__ = (
        ForeignKeyConstraint(
            ["shop_id", "study_id"], ["gauge_studies.shop_id", "gauge_studies.id"]
        ),
        Index(None, "shop_id", "study_id", "round", "person_id", unique=True),
    )
