"""All tables, by capability."""

from academy.store.tables import (
    certification,
    corrections,
    decisions,
    examinations,
    gauge_checks,
    gauge_doubts,
    journal,
    judgement,
    logbook,
    panel_work,
    people,
    practicals,
    question_quality,
    shop_settings,
    study,
    tools,
    workshop,
)
from academy.store.tables.base import Base

__all__ = [
    "Base",
    "certification",
    "corrections",
    "decisions",
    "examinations",
    "gauge_checks",
    "gauge_doubts",
    "journal",
    "judgement",
    "logbook",
    "panel_work",
    "people",
    "practicals",
    "question_quality",
    "shop_settings",
    "study",
    "tools",
    "workshop",
]
