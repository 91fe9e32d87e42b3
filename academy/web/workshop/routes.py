"""Every address of the workshop, gathered under one blueprint."""

from __future__ import annotations

from academy.web.workshop import gauges, overview, panels, settings, studies, tools
from academy.web.workshop.blueprint import bp

__all__ = ["bp", "gauges", "overview", "panels", "settings", "studies", "tools"]
