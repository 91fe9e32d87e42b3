"""All tables, by capability."""

from academy.store.tables import (
    certification,
    examinations,
    journal,
    people,
    practicals,
    study,
    workshop,
)
from academy.store.tables.base import Base

__all__ = [
    "Base",
    "certification",
    "examinations",
    "journal",
    "people",
    "practicals",
    "study",
    "workshop",
]
