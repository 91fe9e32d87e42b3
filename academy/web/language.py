"""The reader's language: typed doors to gettext, used by every page."""

from __future__ import annotations

from collections.abc import Mapping
from contextlib import AbstractContextManager
from datetime import date

import flask_babel
from flask import current_app


def gettext(text: str, **values: object) -> str:
    """Return the text in the reader's language with its named values filled in."""
    return str(flask_babel.gettext(text, **values))


def ngettext(one: str, many: str, count: int, **values: object) -> str:
    """Return the text for a count, which fills ``%(num)s``."""
    return str(flask_babel.ngettext(one, many, count, **values))


def day_text(day: date) -> str:
    """Return a day in words for a sentence, for example 25 November 2026."""
    return str(flask_babel.format_date(day, "d MMMM y", rebase=False))


def locale() -> str:
    """Return the reader's language tag."""
    return str(flask_babel.get_locale() or "en")


def languages() -> Mapping[str, str]:
    """Return the languages the pages exist in, by tag, named in the reader's own."""
    babel = current_app.extensions["babel"].instance
    known = {str(one): one for one in babel.list_translations()}
    return {tag: str(one.get_display_name(locale())) for tag, one in known.items()}


def in_language(tag: str) -> AbstractContextManager[None]:
    """Say everything within in one language, whatever the reader's own is."""
    held: AbstractContextManager[None] = flask_babel.force_locale(tag)
    return held


def territories() -> Mapping[str, str]:
    """Return the names of countries and territories in the reader's language, by their code."""
    reader = flask_babel.get_locale()
    return dict(reader.territories) if reader else {}
