"""All tables, by capability."""

from academy.store.tables import certification, journal, people, practicals, study, workshop
from academy.store.tables.base import Base

__all__ = ["Base", "certification", "journal", "people", "practicals", "study", "workshop"]
