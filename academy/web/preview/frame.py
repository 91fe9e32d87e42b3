"""What the preview puts round every page: its problems, and the watch for a newer source."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from flask import Flask, url_for
from jinja2 import BaseLoader, Environment, TemplateNotFound

from academy.content.problems import Problem
from academy.domain.curriculum.findings import Severity
from academy.web.context import academy
from academy.web.language import gettext as _
from academy.web.language import locale
from academy.web.parts import Link, Shell

SHOP_FRAME = "base.html"
PREVIEW_FRAME = "preview/_frame.html"
BENEATH = "preview/_shop_frame.html"
_Source = tuple[str, str | None, Callable[[], bool] | None]


@dataclass(frozen=True, slots=True)
class Watched:
    """The source a page was made from and what is wrong with it."""

    digest: str
    errors: tuple[Problem, ...]
    warnings: int


class FrameLoader(BaseLoader):
    """Gives every page the preview's frame, and that frame the shop's.

    The pages themselves stay the ones a trainee sees.
    """

    def __init__(self, templates: BaseLoader) -> None:
        self._templates = templates

    def get_source(self, environment: Environment, template: str) -> _Source:
        """Return the source of a template under the name the preview has for it."""
        name = {SHOP_FRAME: PREVIEW_FRAME, BENEATH: SHOP_FRAME}.get(template, template)
        return self._templates.get_source(environment, name)

    def list_templates(self) -> list[str]:
        """Return the names of all templates."""
        return self._templates.list_templates()


def install(app: Flask) -> None:
    """Put the frame round an application's pages."""
    templates = app.jinja_env.loader
    if templates is None:
        raise TemplateNotFound(SHOP_FRAME)
    app.jinja_env.loader = FrameLoader(templates)
    app.context_processor(lambda: {"shell": _shell(), "watched": watched()})


def watched() -> Watched:
    """Return the newest source and what is wrong with it."""
    compiled = academy().library.compiled
    problems = compiled.problems if compiled else ()
    errors = tuple(p for p in problems if p.severity is Severity.ERROR)
    return Watched(compiled.draft.digest if compiled else "", errors, len(problems) - len(errors))


def _shell() -> Shell:
    return Shell(
        shop_name=_("Preview of the course"),
        language=locale(),
        navigation=(
            Link(_("Everything"), url_for("preview.contents")),
            Link(_("Study"), url_for("study.course_overview")),
            Link(_("Glossary"), url_for("study.glossary")),
        ),
    )
