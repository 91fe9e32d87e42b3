"""The schemes that rule a shop on a day: the versions it works by, not the newest written."""

from __future__ import annotations

from datetime import date, datetime
from uuid import UUID, uuid4

from sqlalchemy.orm import Session

from academy.domain.certification.versions import Adoption, ruling_digest
from academy.domain.curriculum.course import Course
from academy.domain.curriculum.frozen import frozen_scheme, scheme_from_frozen
from academy.domain.curriculum.schemes import Scheme
from academy.services.frozen_documents import keep_document
from academy.store.queries.decisions import adoptions, frozen_body
from academy.store.tables.decisions import SchemeAdoption


def schemes_on(session: Session, shop_id: UUID, course: Course, day: date) -> tuple[Scheme, ...]:
    """Return the version of each scheme that rules on a day, in the course's order.

    A shop that has not begun to work by a scheme is ruled by the one written now.
    """
    known = adopted(session, shop_id)
    return tuple(_ruling(session, known, scheme, day) for scheme in course.schemes)


def adopted(session: Session, shop_id: UUID) -> list[Adoption]:
    """Return the versions a shop has adopted."""
    return [
        Adoption(row.scheme_id, row.digest, row.applies_from, row.adopted_at)
        for row in adoptions(session, shop_id)
    ]


def begin_to_work_by(
    session: Session, shop_id: UUID, course: Course, today: date, now: datetime
) -> None:
    """Let the schemes as written rule a shop that records its first evidence."""
    begun = {row.scheme_id for row in adoptions(session, shop_id)}
    for scheme in course.schemes:
        if scheme.id not in begun:
            adopt(session, shop_id, scheme, today, None, now)


def adopt(
    session: Session,
    shop_id: UUID,
    scheme: Scheme,
    applies_from: date,
    by: UUID | None,
    now: datetime,
) -> None:
    """Keep a version and let it rule from a day on."""
    keep_document(session, "scheme", scheme.digest, frozen_scheme(scheme), now)
    session.add(
        SchemeAdoption(
            shop_id=shop_id,
            id=uuid4(),
            scheme_id=scheme.id,
            digest=scheme.digest,
            applies_from=applies_from,
            adopted_by=by,
            adopted_at=now,
        )
    )
    session.flush()


def _ruling(session: Session, known: list[Adoption], scheme: Scheme, day: date) -> Scheme:
    digest = ruling_digest(known, scheme.id, day)
    if digest is None or digest == scheme.digest:
        return scheme
    body = frozen_body(session, digest)
    return scheme_from_frozen(body) if body else scheme
