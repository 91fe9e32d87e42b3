"""Verifying gauges before the day's work, and refusing to read with one that is not."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal
from typing import Any
from uuid import UUID

from sqlalchemy.orm import Session

from academy.domain.curriculum.kinds import Substrate
from academy.domain.metrology.methods import GaugeMethod
from academy.domain.metrology.verification import Combine, Tolerance
from academy.domain.people import Permission
from academy.domain.workshop.gauges import (
    GaugeRefusal,
    Standard,
    StandardJudged,
    StandardRead,
    judge_standards,
    method_needed,
    refuse_unverified_gauge,
)
from academy.keys.digests import digest_of
from academy.services import journal
from academy.services.actor import Actor, NotFound
from academy.store.queries.gauges import SuspectPractical, checks_of, foils
from academy.store.queries.gauges import suspect_practicals as query_suspect_practicals
from academy.store.queries.shop_settings import policy
from academy.store.queries.workshop import GaugeRow, gauge
from academy.store.tables.gauge_checks import Foil, GaugeVerification
from academy.store.tables.workshop import Gauge

ZERO = "bare metal"


@dataclass(frozen=True, slots=True)
class NewFoil:
    """A certified foil to be added, as its certificate states it."""

    label: str
    certified_um: Decimal
    tolerance_um: Decimal
    tolerance_percent: Decimal = Decimal(0)
    certificate_number: str = ""
    certificate_due_on: date | None = None


@dataclass(frozen=True, slots=True)
class NewVerification:
    """What the gauge showed on bare metal and on each foil that was read."""

    id: UUID
    gauge_id: UUID
    method: GaugeMethod
    zero_um: tuple[Decimal, ...]
    on_foils_um: Mapping[UUID, tuple[Decimal, ...]]


@dataclass(frozen=True, slots=True)
class Verified:
    """The outcome of a verification, standard by standard."""

    passed: bool
    standards: tuple[StandardJudged, ...]


@dataclass(eq=False)
class MethodNotThere(GaugeRefusal):
    """The gauge has no such method."""

    template = "%(gauge)s has no %(method)s method"
    gauge: str
    method: str


def add_foil(
    session: Session, *, actor: Actor, foil_id: UUID, foil: NewFoil, now: datetime
) -> UUID:
    """Add a certified foil; a known id is answered and not doubled."""
    actor.require(Permission.WRITE_WORKSHOP)
    if session.get(Foil, (actor.shop_id, foil_id)) is None:
        session.add(
            Foil(
                shop_id=actor.shop_id,
                id=foil_id,
                label=foil.label,
                certified_um=foil.certified_um,
                tolerance_um=foil.tolerance_um,
                tolerance_percent=foil.tolerance_percent,
                certificate_number=foil.certificate_number,
                certificate_due_on=foil.certificate_due_on,
                created_at=now,
            )
        )
    return foil_id


def verify_gauge(
    session: Session, *, actor: Actor, new: NewVerification, now: datetime
) -> Verified:
    """Judge and keep a verification; one with a known id is answered and not doubled.

    Raises
    ------
    NotFound, MethodNotThere, TooFewOnStandard, NoFoilRead
        Nothing is written.
    """
    actor.require(Permission.VERIFY_GAUGE)
    checked = _gauge(session, actor.shop_id, new.gauge_id)
    if new.method not in checked.methods:
        raise MethodNotThere(checked.label, new.method.value)
    combine = policy(session, actor.shop_id).combine
    judged = judge_standards(_reads(session, actor, new), checked.tolerance, combine)
    verified = Verified(all(standard.passed for standard in judged), judged)
    if session.get(GaugeVerification, (actor.shop_id, new.id)) is None:
        _write(session, actor, new, verified, combine, now)
    return verified


def refuse_unverified(
    session: Session,
    shop_id: UUID,
    gauge_id: UUID,
    now: datetime,
    substrate: Substrate = Substrate.STEEL,
) -> None:
    """Raise a sentence unless readings may be taken with this gauge now, on this substrate.

    Raises
    ------
    NotFound
        There is no such gauge in this shop.
    NothingReadsPlastic, WrongMethod
        The gauge cannot read there at all.
    GaugeNotVerified, GaugeFailed
        It has no passed verification today for the method this metal asks for.
    """
    asked = _gauge(session, shop_id, gauge_id)
    method = method_needed(asked.label, asked.methods, substrate)
    checks = checks_of(session, shop_id, gauge_id, method)
    refuse_unverified_gauge(asked.label, method, checks, now, policy(session, shop_id).zone)


def suspect_practicals(session: Session, shop_id: UUID) -> Sequence[SuspectPractical]:
    """Return what rests on a gauge in doubt, soonest day to re-measure first."""
    return query_suspect_practicals(session, shop_id)


def take_over_repeatability(
    session: Session, *, actor: Actor, gauge_id: UUID, repeatability_um: Decimal, now: datetime
) -> None:
    """Make a gauge study's repeatability the gauge's own; closed records keep the one they had."""
    actor.require(Permission.WRITE_WORKSHOP)
    row = session.get(Gauge, (actor.shop_id, gauge_id))
    if row is None:
        raise NotFound()
    if row.repeatability_um == repeatability_um:
        return
    before, row.repeatability_um = row.repeatability_um, repeatability_um
    session.flush()
    journal.append(
        session,
        shop_id=actor.shop_id,
        actor_id=actor.person_id,
        kind="gauge repeatability changed",
        body={
            "gauge": str(gauge_id),
            "before_um": str(before),
            "repeatability_um": str(repeatability_um),
        },
        at=now,
    )


def _gauge(session: Session, shop_id: UUID, gauge_id: UUID) -> GaugeRow:
    found = gauge(session, shop_id, gauge_id)
    if found is None:
        raise NotFound()
    return found


def _reads(session: Session, actor: Actor, new: NewVerification) -> list[StandardRead]:
    known = {foil.id: foil for foil in foils(session, actor.shop_id)}
    # On bare metal nothing but the gauge's own tolerance counts.
    reads = [StandardRead(Standard(ZERO, Decimal(0), Tolerance()), new.zero_um)]
    for foil_id, readings_um in new.on_foils_um.items():
        if foil_id not in known:
            raise NotFound()
        foil = known[foil_id]
        standard = Standard(foil.label, foil.certified_um, foil.tolerance)
        reads.append(StandardRead(standard, readings_um))
    return reads


def _write(
    session: Session,
    actor: Actor,
    new: NewVerification,
    verified: Verified,
    combine: Combine,
    now: datetime,
) -> None:
    checks = [_plain(standard) for standard in verified.standards]
    session.add(
        GaugeVerification(
            shop_id=actor.shop_id,
            id=new.id,
            gauge_id=new.gauge_id,
            method=new.method,
            combine=combine,
            checks=checks,
            passed=verified.passed,
            verified_at=now,
            verified_by=actor.person_id,
        )
    )
    session.flush()
    journal.append(
        session,
        shop_id=actor.shop_id,
        actor_id=actor.person_id,
        kind="gauge verified",
        body={
            "gauge": str(new.gauge_id),
            "verification": str(new.id),
            "method": new.method.value,
            "combine": combine.value,
            "checks": digest_of(checks),
            "passed": verified.passed,
        },
        at=now,
    )


def _plain(judged: StandardJudged) -> dict[str, Any]:
    """Return one standard as it is kept: decimals as text, so that none is rounded."""
    standard = judged.read.standard
    return {
        "standard": standard.label,
        "certified_um": str(standard.certified_um),
        "tolerance_um": str(standard.tolerance.absolute_um),
        "tolerance_percent": str(standard.tolerance.percent),
        "readings_um": [str(reading) for reading in judged.read.readings_um],
        "mean_um": f"{judged.mean_um:.3f}",
        "error_um": f"{judged.error_um:.3f}",
        "limit_um": f"{judged.limit_um:.3f}",
        "passed": judged.passed,
    }
