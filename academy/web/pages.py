"""Pages: a dataclass that names its template and holds exactly what the template shows."""

from __future__ import annotations

from dataclasses import dataclass, fields
from typing import Any, ClassVar

from flask import render_template


@dataclass(frozen=True, slots=True)
class Page:
    """One page; a test compares the fields with the variables of the template."""

    template: ClassVar[str]

    def values(self) -> dict[str, Any]:
        """Return the template's variables."""
        return {field.name: getattr(self, field.name) for field in fields(self)}


def render(page: Page, status: int = 200) -> tuple[str, int]:
    """Return the rendered page with its status."""
    return render_template(page.template, **page.values()), status
