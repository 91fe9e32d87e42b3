"""Every address of the logbook, gathered under one blueprint."""

from __future__ import annotations

from academy.web.logbook import changes, day, drills, entries, overview
from academy.web.logbook.blueprint import bp

__all__ = ["bp", "changes", "day", "drills", "entries", "overview"]
