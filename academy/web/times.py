"""Times in a sentence, on the shop's clock and with its distance from UTC."""

from __future__ import annotations

from datetime import datetime

from flask_babel import get_timezone

from academy.web.formats import when_text
from academy.web.language import locale


def when_words(moment: datetime) -> str:
    """Return a moment in words for a sentence, such as 2 March 2026, 10:30 UTC+01:00."""
    return str(when_text(moment, get_timezone(), locale=locale()).striptags())
