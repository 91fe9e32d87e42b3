"""Every address of the workshop, gathered under one blueprint."""

from __future__ import annotations

from academy.web.workshop import corrections, gauges, overview, panels, settings, studies, tools
from academy.web.workshop.blueprint import bp

__all__ = ["bp", "corrections", "gauges", "overview", "panels", "settings", "studies", "tools"]
