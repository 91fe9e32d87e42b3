"""Pages of the workshop: panels with their sections, gauges."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar
from uuid import UUID

from academy.store.queries.workshop import GaugeRow, SectionRow
from academy.web.pages import Page
from academy.web.parts import Choosable, Filled


@dataclass(frozen=True, slots=True)
class WorkshopPage(Page):
    """What stands in the workshop."""

    template: ClassVar[str] = "workshop/overview.html"
    sections: tuple[SectionRow, ...]
    gauges: tuple[GaugeRow, ...]


@dataclass(frozen=True, slots=True)
class PanelPage(Page):
    """Adding a panel."""

    template: ClassVar[str] = "workshop/panel.html"
    form: Filled
    panel_id: UUID
    substrates: tuple[Choosable, ...]


@dataclass(frozen=True, slots=True)
class GaugePage(Page):
    """Adding a gauge."""

    template: ClassVar[str] = "workshop/gauge.html"
    form: Filled
    gauge_id: UUID
