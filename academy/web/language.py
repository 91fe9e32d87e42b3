"""The reader's language: typed doors to gettext, used by every page."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date

import flask_babel


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


def territories() -> Mapping[str, str]:
    """Return the names of countries and territories in the reader's language, by their code."""
    reader = flask_babel.get_locale()
    return dict(reader.territories) if reader else {}
