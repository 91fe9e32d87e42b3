"""A person's evidence on a day, read as the standings read it."""

from __future__ import annotations

from datetime import date
from uuid import UUID

from sqlalchemy.orm import Session

from academy.domain.certification import Evidence
from academy.services.evidence import evidence_of
from academy.store.queries.evidence import signed_practicals


def evidence_on(session: Session, shop_id: UUID, person_id: UUID, day: date) -> Evidence:
    """Return everything that counts for a person on a day."""
    signed = signed_practicals(session, shop_id, person_id)
    return evidence_of(session, shop_id, person_id, day, signed)
