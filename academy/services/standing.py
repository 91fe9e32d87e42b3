"""The standing row per person and scheme: written with the evidence, checked against it."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, datetime
from uuid import UUID

from sqlalchemy.orm import Session

from academy.domain.certification import Standing, standing
from academy.domain.certification.frozen import frozen_missing, missing_from_frozen
from academy.domain.curriculum.course import Course
from academy.domain.curriculum.frozen import frozen_scheme
from academy.domain.curriculum.schemes import Scheme
from academy.services.evidence import evidence_of
from academy.services.frozen_documents import keep_document
from academy.services.shop_clock import today_in_shop
from academy.store.queries.evidence import StandingOfPerson
from academy.store.tables.certification import StandingRow


def rewrite_standings(
    session: Session, *, shop_id: UUID, person_id: UUID, course: Course, now: datetime
) -> tuple[Standing, ...]:
    """Recompute a person's standing under every scheme, in the transaction of the evidence."""
    session.flush()
    today = today_in_shop(session, shop_id, now)
    evidence = evidence_of(session, shop_id, person_id, today)
    return tuple(
        _rewrite(session, shop_id, person_id, scheme, standing(scheme, evidence, today), now)
        for scheme in course.schemes
    )


def standings_today(
    session: Session,
    *,
    shop_id: UUID,
    person_id: UUID,
    course: Course,
    rows: Sequence[StandingOfPerson],
    now: datetime,
) -> dict[str, Standing]:
    """Return a person's standing today under each scheme.

    The rows were true when the evidence last changed.  Where a term has ended
    since, the scheme has changed or no row was written, the evidence is read again.
    """
    today = today_in_shop(session, shop_id, now)
    by_scheme = {row.scheme_id: row for row in rows}
    fresh = {
        scheme.id: _standing_of(by_scheme[scheme.id])
        for scheme in course.schemes
        if scheme.id in by_scheme and _still_true(by_scheme[scheme.id], scheme, today)
    }
    if len(fresh) < len(course.schemes):
        evidence = evidence_of(session, shop_id, person_id, today)
        for scheme in course.schemes:
            fresh.setdefault(scheme.id, standing(scheme, evidence, today))
    return fresh


def _still_true(row: StandingOfPerson, scheme: Scheme, today: date) -> bool:
    ended = row.valid_until is not None and row.valid_until < today
    return row.scheme_digest == scheme.digest and not ended


def _standing_of(row: StandingOfPerson) -> Standing:
    return Standing(
        row.scheme_id,
        row.level,
        row.next_level,
        tuple(missing_from_frozen(missing) for missing in row.missing),
        row.valid_until,
    )


def _rewrite(
    session: Session,
    shop_id: UUID,
    person_id: UUID,
    scheme: Scheme,
    today: Standing,
    now: datetime,
) -> Standing:
    keep_document(session, "scheme", scheme.digest, frozen_scheme(scheme), now)
    session.merge(
        StandingRow(
            shop_id=shop_id,
            person_id=person_id,
            scheme_id=scheme.id,
            scheme_digest=scheme.digest,
            level=today.level,
            next_level=today.next_level,
            missing=[frozen_missing(missing) for missing in today.missing],
            valid_until=today.valid_until,
            computed_at=now,
        )
    )
    return today
