"""Pages of the calculators."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from academy.web.pages import Page


@dataclass(frozen=True, slots=True)
class CalculatorsPage(Page):
    """All calculations by name."""

    template: ClassVar[str] = "calculators/overview.html"
    calculations: tuple[tuple[str, str], ...]
