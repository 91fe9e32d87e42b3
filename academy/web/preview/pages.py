"""The one page of the preview's own: everything there is to look at."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from academy.web.pages import Page
from academy.web.parts import Listed


@dataclass(frozen=True, slots=True)
class ModuleContents:
    """What one module holds."""

    title: str
    anchor: str
    pages: tuple[Listed, ...]
    lessons: tuple[Listed, ...]
    questions: tuple[Listed, ...]


@dataclass(frozen=True, slots=True)
class ContentsPage(Page):
    """Every lesson, question, task and sheet."""

    template: ClassVar[str] = "preview/contents.html"
    modules: tuple[ModuleContents, ...]
    tasks: tuple[Listed, ...]
    task_sheets: tuple[Listed, ...]
