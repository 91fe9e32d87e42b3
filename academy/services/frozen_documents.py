"""Schemes and tasks kept exactly as they stood, once each, under their digest."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime
from typing import Any

from sqlalchemy.orm import Session

from academy.store.tables.certification import FrozenDocument


def keep_document(
    session: Session, kind: str, digest: str, body: Mapping[str, Any], now: datetime
) -> None:
    """Keep a document under its source digest unless it already is."""
    if session.get(FrozenDocument, digest) is None:
        session.add(FrozenDocument(digest=digest, kind=kind, body=dict(body), kept_at=now))
        session.flush()
